import * as folder from '../../src/levels/index.js';
import { LEVELS } from '../fuzz/properties/levels.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, LEVELS, 5);

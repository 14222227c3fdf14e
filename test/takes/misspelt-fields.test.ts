import * as folder from '../../src/takes/index.js';
import { TAKES } from '../fuzz/properties/takes.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, TAKES, 6);

import * as folder from '../../src/features/index.js';
import { FEATURES } from '../fuzz/properties/features.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, FEATURES, 2);

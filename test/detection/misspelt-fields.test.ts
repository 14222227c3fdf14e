import * as folder from '../../src/detection/index.js';
import { DETECTION } from '../fuzz/properties/detection.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, DETECTION, 8);

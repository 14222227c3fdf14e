import * as folder from '../../src/gain/index.js';
import { GAIN } from '../fuzz/properties/gain.js';
import { RENDERING } from '../fuzz/properties/rendering.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, { ...GAIN, ...RENDERING }, 17);

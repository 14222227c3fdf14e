import * as folder from '../../src/regions/index.js';
import { HISTORY_AND_TIME } from '../fuzz/properties/history-and-time.js';
import { REGIONS } from '../fuzz/properties/regions.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, { ...REGIONS, ...HISTORY_AND_TIME }, 16);

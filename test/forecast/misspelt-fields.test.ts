import * as folder from '../../src/forecast/index.js';
import { FORECAST } from '../fuzz/properties/forecast.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, FORECAST, 10);

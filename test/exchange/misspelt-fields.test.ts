import * as folder from '../../src/exchange/index.js';
import { EXCHANGE } from '../fuzz/properties/exchange.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, EXCHANGE, 6);

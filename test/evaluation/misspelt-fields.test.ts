import * as folder from '../../src/evaluation/index.js';
import { EVALUATION } from '../fuzz/properties/evaluation.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, EVALUATION, 9);

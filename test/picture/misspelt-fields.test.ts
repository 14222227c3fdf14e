import * as folder from '../../src/picture/index.js';
import { PICTURE } from '../fuzz/properties/picture.js';
import { describeMisspelt } from '../lib/misspelt-fields.js';

describeMisspelt(folder, PICTURE, 2);

import type { Properties } from '../lib/property.js';
import { DETECTION } from './detection.js';
import { EVALUATION } from './evaluation.js';
import { EXCHANGE } from './exchange.js';
import { FEATURES } from './features.js';
import { FORECAST } from './forecast.js';
import { GAIN } from './gain.js';
import { HISTORY_AND_TIME } from './history-and-time.js';
import { LEVELS } from './levels.js';
import { PICTURE } from './picture.js';
import { REGIONS } from './regions.js';
import { RENDERING } from './rendering.js';
import { SIGNAL } from './signal.js';
import { TAKES } from './takes.js';

/** What must hold of each public function, by its name. */
export const PROPERTIES: Properties = {
  ...SIGNAL,
  ...FEATURES,
  ...REGIONS,
  ...HISTORY_AND_TIME,
  ...DETECTION,
  ...LEVELS,
  ...GAIN,
  ...RENDERING,
  ...TAKES,
  ...PICTURE,
  ...FORECAST,
  ...EXCHANGE,
  ...EVALUATION,
};

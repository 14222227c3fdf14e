import type { Doubles } from '../signal/samples.js';
import { TOP_BAND } from './detection-scale.js';
import { EVENT_CLASSES } from './event-classifier.js';
import { bandPower, DB_PER_NEPER, type FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/**
 * What each dB adds to the log odds of s against f: in steps of a tenth, where the labels of 3,100 finds on s and 980 on f are
 * likeliest, in recorded and synthetic voices of 22.05 kHz and more (docs/model-card.md). 23 finds became an s rightly, three f and five others wrongly.
 */
const LOG_ODDS_PER_DB = 0.3;
/** The noise of s and f below the top band: from 1.65 kHz on. */
const FIRST_NOISE_BAND = 6;
const SIBILANT = EVENT_CLASSES.indexOf('sibilant');
const FRICATIVE = EVENT_CLASSES.indexOf('fricative');

/**
 * The shares of an event's kinds, with what the top band tells. The s of a bright voice may lie above 7.6 kHz as a whole, and what is left
 * below is as flat as an f. Each dB by which the top band is stronger than all from 1.65 kHz up to it moves the odds towards s; what s and f
 * have together stays as it is, and so do the others. A weaker top band tells nothing: recordings that end at 8 kHz have none.
 */
export function withTopBand(shares: Doubles, tables: FrameTables, part: NoiseSpan): Doubles {
  let top = 0;
  let below = 0;
  for (let t = part.start; t < part.end; t++) {
    top += bandPower(tables, t, TOP_BAND, TOP_BAND + 1);
    below += bandPower(tables, t, FIRST_NOISE_BAND, TOP_BAND);
  }
  if (top <= below) return shares;
  const sibilant = shares[SIBILANT] as number;
  const fricative = shares[FRICATIVE] as number;
  const favoured = sibilant * Math.exp(LOG_ODDS_PER_DB * DB_PER_NEPER * Math.log(top / below));
  if (favoured === 0) return shares;
  const moved = Float64Array.from(shares);
  moved[SIBILANT] = ((sibilant + fricative) * favoured) / (favoured + fricative);
  moved[FRICATIVE] = ((sibilant + fricative) * fricative) / (favoured + fricative);
  return moved;
}

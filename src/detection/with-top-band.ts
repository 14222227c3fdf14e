import type { Doubles } from '../signal/samples.js';
import { ROW_BANDS, TOP_BAND } from './detection-scale.js';
import { type FrameTables, spanPower } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/**
 * The odds of s against f are multiplied by the ratio of powers to this exponent: by 1.35 for each dB. Of steps of a tenth in the log odds per dB
 * this is where the labels of 3,100 finds on s and 980 on f are likeliest, in recorded and synthetic voices of 22.05 kHz and more
 * (docs/model-card.md). 23 finds became an s rightly, three f and five others wrongly.
 */
const EXPONENT = 1.3;
/** The noise of s and f below the top band: from 1.65 kHz on. */
const FIRST_NOISE_BAND = 6;

/**
 * The shares of an event's kinds, with what the top band tells. The s of a bright voice may lie above 7.6 kHz as a whole, and what is left
 * below is as flat as an f. Each dB by which the top band is stronger than all from 1.65 kHz up to it moves the odds towards s; what s and f
 * have together stays as it is, and so do the others. A weaker top band tells nothing: recordings that end at 8 kHz have none.
 */
export function withTopBand(shares: Doubles, tables: FrameTables, part: NoiseSpan): Doubles {
  const top = spanPower(tables, part, TOP_BAND, ROW_BANDS);
  const below = spanPower(tables, part, FIRST_NOISE_BAND, TOP_BAND);
  const [none, sibilant, fricative, burst, breath] = shares as unknown as [
    number,
    number,
    number,
    number,
    number,
  ];
  if (top <= below) return shares;
  const favoured = sibilant * (top / below) ** EXPONENT;
  // Where there is neither s nor f, nothing moves.
  const more = (fricative * (favoured - sibilant)) / (favoured + fricative || 1);
  return Float64Array.of(none, sibilant + more, fricative - more, burst, breath);
}

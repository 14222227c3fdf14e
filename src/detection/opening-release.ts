import type { Doubles } from '../signal/samples.js';
import { FRAME_CLASSES } from './detection-scale.js';
import type { NoiseSpan } from './noise-spans.js';

const CLASSES = FRAME_CLASSES.length;
const FIRST_NOISE = FRAME_CLASSES.indexOf('sibilant');
const BURST = FRAME_CLASSES.indexOf('burst');
/**
 * By so much, summed over its frames, a release is likelier than any other noise: one frame that is surely a burst. Less may be the rise of
 * the s itself. By as much the s is likelier once it has begun; a burst after that is another.
 */
const LEAST_SUM = 1;

/**
 * The release that opens an affricate: the first frames of a sibilant part, as far as they are likelier a burst than any other noise when
 * all of them are taken together. A sum, and not frame by frame: it hardly changes where the same sound falls between frames otherwise. The
 * release is weaker than the s after it, so an edge read at half the level of the s would leave it outside, uncut. Undefined where the part
 * opens with its s, or has none.
 */
export function openingRelease(track: Doubles, part: NoiseSpan): NoiseSpan | undefined {
  let end = part.start;
  let most = 0;
  let sum = 0;
  for (let t = part.start; t < part.end; t++) {
    sum += burstMargin(track, t * CLASSES);
    if (sum > most) {
      most = sum;
      end = t + 1;
    } else if (sum < most - LEAST_SUM) break;
  }
  return most < LEAST_SUM || end === part.end ? undefined : { ...part, end, class: BURST };
}

/** How much likelier a frame is a burst than the likeliest other noise. */
function burstMargin(track: Doubles, at: number): number {
  let other = 0;
  for (let kind = FIRST_NOISE; kind < CLASSES; kind++)
    if (kind !== BURST) other = Math.max(other, track[at + kind] as number);
  return (track[at + BURST] as number) - other;
}

import type { Doubles } from '../signal/samples.js';
import { FRAME_CLASSES } from './detection-scale.js';
import type { NoiseSpan } from './noise-spans.js';

const CLASSES = FRAME_CLASSES.length;
const FIRST_NOISE = FRAME_CLASSES.indexOf('sibilant');
const BURST = FRAME_CLASSES.indexOf('burst');
/** A release is at least this long, in frames: one alone may be the rise of the s itself. */
const LEAST_FRAMES = 2;

/**
 * The release that opens an affricate: the first frames of a sibilant part that are more likely burst than any other
 * noise. It is weaker than the s after it, so an edge read at half the level of the s would leave it outside, uncut.
 * Undefined where the part opens with its s.
 */
export function openingRelease(track: Doubles, part: NoiseSpan): NoiseSpan | undefined {
  const isBurst = (t: number): boolean => {
    for (let kind = FIRST_NOISE; kind < CLASSES; kind++)
      if ((track[t * CLASSES + kind] as number) > (track[t * CLASSES + BURST] as number)) return false;
    return true;
  };
  let end = part.start;
  while (end < part.end && isBurst(end)) end++;
  return end - part.start < LEAST_FRAMES || end === part.end ? undefined : { ...part, end, class: BURST };
}

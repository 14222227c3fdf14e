import { HIGH_FLOOR_INPUT, INPUT_COUNT } from './detection-scale.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/**
 * A consonant rises by so much over the steady noise above 3 kHz, in units of 15 dB: here 4 dB. Of 4,300 finds that lie on
 * labelled consonants the softest rises by 8.6 dB; where a hum ends and its hiss is left, 3 dB (measured on the corpora of
 * docs/model-card.md and by bench/robust-ends.ts).
 */
const LEAST_RISE = 4 / 15;

/** Whether nothing above 3 kHz rises over the noise floor in a stretch or in the frame to each side of it. */
export function isWithinNoiseFloor({ inputs, rowCount }: FrameTables, part: NoiseSpan): boolean {
  const end = Math.min(rowCount, part.end + 1);
  for (let t = Math.max(0, part.start - 1); t < end; t++)
    if ((inputs[t * INPUT_COUNT + HIGH_FLOOR_INPUT] as number) > LEAST_RISE) return false;
  return true;
}

import { BAND_COUNT, INPUT_COUNT } from './detection-scale.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/**
 * No frame and no band of a consonant lies so far below the mean level of this voice there, in tens of dB. Of 22,000
 * labelled consonants the softest lies 33 dB below in its loudest group of bands; the noise of a room that begins after
 * digital silence, 40 to 60 dB (measured on the corpora of docs/model-card.md).
 */
const LEAST_LEVEL = -3.5;

/** Whether a stretch is too soft beside this voice to be one of its consonants, in every band and at every moment. */
export function isFarBelowVoice({ inputs }: FrameTables, part: NoiseSpan): boolean {
  for (let t = part.start; t < part.end; t++)
    for (let band = 0; band < BAND_COUNT; band++)
      if ((inputs[t * INPUT_COUNT + band] as number) > LEAST_LEVEL) return false;
  return true;
}

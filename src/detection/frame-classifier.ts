import type { Doubles } from '../signal/samples.js';

/**
 * Says what each frame of a stretch may be. The detector works with any of them: the model that comes with the
 * library, one that you trained, or a plain rule.
 *
 * `classify` reads `rowCount` rows of `inputCount` numbers (row k at `inputs[k·inputCount]`) and writes as many rows of probabilities, one per class in the order of FRAME_CLASSES, each
 * within 0 … 1 and summing to 1. A row may depend on `contextFrames` rows to each side and no more. The detector hands in so many more on
 * each side, repeating the first and the last row of the clip beyond its ends. Same rows in, same numbers out: no memory between calls. One
 * that judges only every `frameStep`th row and fills in the others is handed stretches that start such a multiple from the clip's first row.
 *
 * The numbers of a frame, a step of 5.33 ms. "Around it" is from 6.0 s before to 1.9 s after:
 * - 0–15: level of sixteen bands from 80 Hz to 7.6 kHz less its mean around it, each frame weighted by its amplitude between 300 Hz and
 *   2.5 kHz, so that vowels count and silence does not; in units of 10 dB, held to −5 … 4;
 * - 16–19: that mean in four groups of bands (80–500 Hz, to 1.65 kHz, to 3.5 kHz, to 7.6 kHz) less the mean of all, in units of 10 dB;
 * - 20–22: level over the noise floor (the least mean of 85 ms around it, at most 60 dB under the voice) below 1 kHz, from 1 to 3 kHz and
 *   above, in units of 15 dB, at most 4;
 * - 23: mean of the first sixteen;
 * - 24–27: level in 1.65–2.5, 2.5–4, 4–5.2 and 5.2–7.6 kHz below the loudest 32 ms of it around it, in units of 10 dB, held to −4 … 1.
 *
 * Bands that the sample rate does not reach repeat the highest one that it does.
 */
export interface FrameClassifier {
  /** Numbers that describe a frame. */
  readonly inputCount: number;
  /** How many rows to each side an answer may depend on, 0 or more. */
  readonly contextFrames: number;
  /** Stretches start at multiples of so many rows, 1 (default) to 16; then `contextFrames` is such a multiple. */
  readonly frameStep?: number;
  /** Reads `rowCount` rows of `inputs` and writes as many of `probabilities`; allocates nothing that it returns. */
  classify(inputs: Doubles, rowCount: number, probabilities: Doubles): void;
}

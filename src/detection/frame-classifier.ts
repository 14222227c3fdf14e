import type { Doubles } from '../signal/samples.js';

/**
 * Says what each frame of a stretch may be. The detector works with any of them: the model that comes with the
 * library, one that you trained, or a plain rule.
 *
 * `classify` reads `rowCount` rows of `inputCount` numbers (row k at `inputs[k·inputCount]`; `createVoiceReference`
 * says what they mean) and writes as many rows of probabilities, one per class in the order of FRAME_CLASSES, each
 * within 0 … 1 and summing to 1. A row may depend on `contextFrames` rows to each side and no more. The detector hands in so many more on
 * each side, repeating the first and the last row of the clip beyond its ends. Same rows in, same numbers out: no memory between calls.
 */
export interface FrameClassifier {
  /** Numbers that describe a frame. */
  readonly inputCount: number;
  /** How many rows to each side an answer may depend on, 0 or more. */
  readonly contextFrames: number;
  /** Reads `rowCount` rows of `inputs` and writes as many of `probabilities`; allocates nothing that it returns. */
  classify(inputs: Doubles, rowCount: number, probabilities: Doubles): void;
}

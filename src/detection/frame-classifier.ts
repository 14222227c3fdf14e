import type { Doubles } from '../signal/samples.js';

/**
 * Says what each frame of a stretch may be. The detector works with any of them: the model that comes with the
 * library, one that you trained, or a plain rule.
 *
 * `classify` reads `rowCount` rows of `inputCount` numbers (row k at `inputs[k·inputCount]`; `createVoiceReference`
 * says what they mean) and writes as many rows of probabilities, one per class in the order of FRAME_CLASSES, each
 * within 0 … 1 and summing to 1. A row may depend on `contextFrames` rows to each side and no more; rows beyond the
 * ends count as absent. Same rows in, same numbers out: no memory between calls.
 */
export interface FrameClassifier {
  readonly inputCount: number;
  readonly contextFrames: number;
  classify(inputs: Doubles, rowCount: number, probabilities: Doubles): void;
}

import { FRAME_CLASSES, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import type { FrameClassifier } from '../../src/detection/frame-classifier.js';

/** A classifier that says the same of every frame, with as much context as it likes. */
export function constant(probabilities: readonly number[], contextFrames = 0): FrameClassifier {
  return {
    inputCount: INPUT_COUNT,
    contextFrames,
    classify: (_inputs, rowCount, out) => {
      for (let row = 0; row < rowCount; row++) out.set(probabilities, row * FRAME_CLASSES.length);
    },
  };
}
/** As probabilities of FRAME_CLASSES. */
export const ALL_SIBILANT: readonly number[] = [0, 0, 1, 0, 0, 0];

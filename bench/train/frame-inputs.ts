import { INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import { createRowStore } from '../../src/detection/row-store.js';
import { createVoiceReference } from '../../src/detection/voice-reference.js';
import type { Doubles } from '../../src/signal/samples.js';

/** Classifier inputs of a whole clip, INPUT_COUNT a frame, from its band powers: what the detector would see. */
export function frameInputs(powers: Float64Array, frameCount: number, usableBands: number): Doubles {
  const bands = createRowStore(ROW_BANDS);
  const inputs = createRowStore(INPUT_COUNT);
  for (let frame = 0; frame < frameCount; frame++) bands.add();
  bands.data.set(powers.subarray(0, frameCount * ROW_BANDS));
  createVoiceReference(usableBands).advance(bands, true, inputs);
  return inputs.data.subarray(0, frameCount * INPUT_COUNT);
}

import {
  EVENT_MEANS,
  EVENT_SPREADS,
  EVENT_WEIGHTS,
  FRAME_WEIGHTS,
  MODEL_SHAPE,
} from './consonant-weights.js';
import type { ConvModel } from './conv-classifier.js';
import { INPUT_COUNT } from './detection-scale.js';
import type { EventModel } from './event-classifier.js';
import { EVENT_MEASURE_COUNT } from './event-measures.js';
import { unpackWeights } from './packed-weights.js';

/**
 * The model that comes with the library: one network for frames, one for whole events. docs/model-card.md says what
 * it learned from, how well it does on voices it never heard, and where it fails. `bench/train` makes it anew.
 *
 * @example
 * import { createConsonantModel } from 'lenition/detection';
 * createConsonantModel().frames.inputCount; // => 28
 */
export function createConsonantModel(): {
  /** Judges frames; `createConvClassifier` runs it. */
  readonly frames: ConvModel;
  /** Judges whole events. */
  readonly events: EventModel;
} {
  return { frames: ownFrameModel(), events: ownEventModel() };
}

/** The network for frames alone. */
export function ownFrameModel(): ConvModel {
  return {
    inputCount: INPUT_COUNT,
    channelCount: MODEL_SHAPE.channelCount,
    kernelFrames: MODEL_SHAPE.kernelFrames,
    dilations: MODEL_SHAPE.dilations,
    frameStep: MODEL_SHAPE.frameStep,
    weights: unpackWeights(FRAME_WEIGHTS),
  };
}

/** The network for whole events alone. */
export function ownEventModel(): EventModel {
  return {
    measureCount: EVENT_MEASURE_COUNT,
    hiddenCount: MODEL_SHAPE.hiddenCount,
    means: unpackWeights(EVENT_MEANS),
    spreads: unpackWeights(EVENT_SPREADS),
    weights: unpackWeights(EVENT_WEIGHTS),
  };
}

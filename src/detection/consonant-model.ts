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
  return { frames: frameModel(), events: eventModel() };
}

// Unpacked once. Only the detector reads these; whoever asks for the model gets numbers of their own.
let frames: ConvModel | undefined;
let events: EventModel | undefined;

/** The network for frames alone, to be read and not changed. */
export function ownFrameModel(): ConvModel {
  frames ??= frameModel();
  return frames;
}

/** The network for whole events alone, to be read and not changed. */
export function ownEventModel(): EventModel {
  events ??= eventModel();
  return events;
}

function frameModel(): ConvModel {
  return {
    inputCount: INPUT_COUNT,
    channelCount: MODEL_SHAPE.channelCount,
    kernelFrames: MODEL_SHAPE.kernelFrames,
    dilations: MODEL_SHAPE.dilations,
    frameStep: MODEL_SHAPE.frameStep,
    weights: unpackWeights(FRAME_WEIGHTS),
  };
}

function eventModel(): EventModel {
  return {
    measureCount: EVENT_MEASURE_COUNT,
    hiddenCount: MODEL_SHAPE.hiddenCount,
    means: unpackWeights(EVENT_MEANS),
    spreads: unpackWeights(EVENT_SPREADS),
    weights: unpackWeights(EVENT_WEIGHTS),
  };
}

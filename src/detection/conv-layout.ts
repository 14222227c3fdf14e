import type { NetworkParts, TimeFilter } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { FRAME_CLASSES } from './detection-scale.js';

/** Takes the weights of a network apart, in the order that `convWeightCount` counts them; all parts are views. */
export function convLayout(model: ConvModel): NetworkParts {
  const { inputCount, channelCount: width, kernelFrames, frameStep = 1, weights } = model;
  const classCount = FRAME_CLASSES.length;
  let at = 0;
  const next = (count: number): Doubles => {
    at += count;
    return weights.subarray(at - count, at);
  };
  return {
    inputCount,
    width,
    classCount,
    frameStep,
    waitingRows: (frameStep - (reachFrames(model) % frameStep)) % frameStep,
    entry: next(inputCount * width),
    entryBias: next(width),
    layers: layerFilters(model).map((filter) => ({
      filter,
      taps: next(kernelFrames * width),
      mix: next(width * width),
      bias: next(width),
    })),
    exit: next(width * classCount),
    exitBias: next(classCount),
  };
}

/**
 * The filter of each layer. A layer answers for those frames alone that the layers after it read: multiples of the greatest number that divides the step
 * and their dilations. The next one takes these rows, so that its dilation in rows is smaller than in frames.
 */
export function layerFilters({
  channelCount,
  kernelFrames,
  dilations,
  frameStep = 1,
}: Omit<ConvModel, 'weights'>): readonly TimeFilter[] {
  let framesPerRow = 1;
  return dilations.map((frames, l) => {
    const before = framesPerRow;
    framesPerRow = dilations.slice(l + 1).reduce(greatestDivisor, frameStep);
    return { channelCount, kernelFrames, dilation: frames / before, step: framesPerRow / before };
  });
}

function greatestDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestDivisor(b, a % b);
}

/**
 * Rows to each side that an answer of a network may depend on: a frame between two that are judged depends on both. With a step it is
 * such a multiple.
 */
export function contextFrames(model: Omit<ConvModel, 'weights'>): number {
  const { frameStep = 1 } = model;
  const reach = reachFrames(model);
  return frameStep === 1 ? reach : frameStep * (Math.ceil(reach / frameStep) + 1);
}

/** Rows to each side that all filters together reach. */
function reachFrames({ kernelFrames, dilations }: Omit<ConvModel, 'weights'>): number {
  return dilations.reduce((sum, d) => sum + ((kernelFrames - 1) / 2) * d, 0);
}

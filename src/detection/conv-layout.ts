import type { NetworkParts } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { FRAME_CLASSES } from './detection-scale.js';

/** Takes the weights of a network apart, in the order that `convWeightCount` counts them; all parts are views. */
export function convLayout(model: ConvModel): NetworkParts {
  const { inputCount, channelCount: width, kernelFrames, dilations, weights } = model;
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
    entry: next(inputCount * width),
    entryBias: next(width),
    layers: dilations.map((dilation) => ({
      filter: { channelCount: width, kernelFrames, dilation },
      taps: next(kernelFrames * width),
      mix: next(width * width),
      bias: next(width),
    })),
    exit: next(width * classCount),
    exitBias: next(classCount),
  };
}

/** Rows to each side that an answer of a network depends on. */
export function contextFrames({ kernelFrames, dilations }: Omit<ConvModel, 'weights'>): number {
  return dilations.reduce((sum, d) => sum + ((kernelFrames - 1) / 2) * d, 0);
}

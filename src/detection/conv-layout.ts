import type { NetworkParts } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { FRAME_CLASSES } from './detection-scale.js';

/** Takes the weights of a network apart, in the order that `convWeightCount` counts them; all parts are views. */
export function convLayout(model: ConvModel): NetworkParts {
  const { inputCount, channelCount: width, kernelFrames, dilations, frameStep = 1, weights } = model;
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
    entry: next(inputCount * width),
    entryBias: next(width),
    // What comes after the first layer is a row for every frame that is asked for.
    layers: dilations.map((dilation, l) => ({
      filter: {
        channelCount: width,
        kernelFrames,
        dilation: l === 0 ? dilation : dilation / frameStep,
        step: l === 0 ? frameStep : 1,
      },
      taps: next(kernelFrames * width),
      mix: next(width * width),
      bias: next(width),
    })),
    exit: next(width * classCount),
    exitBias: next(classCount),
  };
}

/** Rows to each side that an answer of a network depends on: a frame between two that are asked for depends on both. */
export function contextFrames({
  kernelFrames,
  dilations,
  frameStep = 1,
}: Omit<ConvModel, 'weights'>): number {
  const reach = dilations.reduce((sum, d) => sum + ((kernelFrames - 1) / 2) * d, 0);
  return frameStep === 1 ? reach : reach + frameStep;
}

import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { FRAME_CLASSES } from './detection-scale.js';
import type { TimeFilter } from './filter-rows.js';

/** Where the parts of a network lie in its weights; all of them are views. */
export interface ConvLayout {
  readonly entry: Doubles;
  readonly entryBias: Doubles;
  readonly layers: readonly {
    readonly filter: TimeFilter;
    readonly taps: Doubles;
    readonly mix: Doubles;
    readonly bias: Doubles;
  }[];
  readonly exit: Doubles;
  readonly exitBias: Doubles;
  /** Rows to each side that an answer depends on. */
  readonly contextFrames: number;
}

/** Takes the weights of a network apart, in the order that `convWeightCount` counts them. */
export function convLayout(model: ConvModel): ConvLayout {
  const { inputCount, channelCount: width, kernelFrames, dilations, weights } = model;
  const classes = FRAME_CLASSES.length;
  let at = 0;
  const next = (count: number): Doubles => {
    at += count;
    return weights.subarray(at - count, at);
  };
  return {
    entry: next(inputCount * width),
    entryBias: next(width),
    layers: dilations.map((dilation) => ({
      filter: { channelCount: width, kernelFrames, dilation },
      taps: next(kernelFrames * width),
      mix: next(width * width),
      bias: next(width),
    })),
    exit: next(width * classes),
    exitBias: next(classes),
    contextFrames: dilations.reduce((sum, d) => sum + ((kernelFrames - 1) / 2) * d, 0),
  };
}

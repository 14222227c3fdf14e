import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import type { TimeFilter } from '../../src/detection/filter-rows.js';
import type { Doubles } from '../../src/signal/samples.js';
import type { ConvShape } from './conv-network.js';

/** A matrix and the bias that is added. */
export interface Affine {
  readonly matrix: Doubles;
  readonly bias: Doubles;
}

/** The parts of a network's weights, or of their gradients, by name. */
export interface LayerViews {
  readonly entry: Affine;
  readonly layers: readonly (Affine & { readonly taps: Doubles; readonly filter: TimeFilter })[];
  readonly exit: Affine;
}

/** Views into one array, in the order of `convWeightCount`. */
export function layerViews(shape: ConvShape, numbers: Doubles): LayerViews {
  const { inputCount, channelCount: width, kernelFrames, dilations } = shape;
  let used = 0;
  const next = (count: number): Doubles => {
    used += count;
    return numbers.subarray(used - count, used);
  };
  // An object's members are made in the order in which they are written, which is the order of the weights.
  return {
    entry: { matrix: next(inputCount * width), bias: next(width) },
    layers: dilations.map((dilation) => ({
      taps: next(kernelFrames * width),
      matrix: next(width * width),
      bias: next(width),
      filter: { channelCount: width, kernelFrames, dilation, step: 1 },
    })),
    exit: { matrix: next(width * FRAME_CLASSES.length), bias: next(FRAME_CLASSES.length) },
  };
}

import { type ConvModel, convWeightCount } from '../../src/detection/conv-classifier.js';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { filterRowsInto } from '../../src/detection/filter-rows.js';
import { multiplyRowsInto } from '../../src/detection/multiply-rows.js';
import { softmaxRows } from '../../src/detection/softmax-rows.js';
import type { Doubles } from '../../src/signal/samples.js';
import { layerViews } from './layer-views.js';
import { addOuterInto, addRowsInto, transposeInto } from './matrix-products.js';
import { addFilterGradients } from './time-filter.js';

/** Everything of a network but its weights. */
export type ConvShape = Omit<ConvModel, 'weights'>;

/** The network of `createConvClassifier` with the way back, for training. Works in place, without allocation. */
export interface ConvNetwork {
  readonly shape: ConvShape;
  /** To be changed by whoever trains. */
  readonly weights: Doubles;
  /** Sum of what `backward` found; to be cleared by whoever trains. */
  readonly gradients: Doubles;
  /** Class probabilities of the last `forward`, a row per frame. */
  readonly probabilities: Doubles;
  /** Frames to each side that a result depends on. */
  readonly contextFrames: number;
  /** Reads `rowCount` rows of inputs. */
  forward(inputs: Doubles, rowCount: number): void;
  /**
   * Adds the gradients of a loss. `outputChanges` has the derivative of the loss by each output before the softmax
   * (for cross-entropy: weight · (probability − target)), for the rows of the last `forward`.
   */
  backward(inputs: Doubles, outputChanges: Doubles): void;
}

/** Makes a network with all weights 0 and room for `mostRows` rows. */
export function createConvNetwork(shape: ConvShape, mostRows: number): ConvNetwork {
  const { inputCount, channelCount: width, kernelFrames, dilations } = shape;
  const classes = FRAME_CLASSES.length;
  if (width % 2 !== 0) throw new RangeError(`channelCount must be even; received ${width}`);
  const weights = new Float64Array(convWeightCount(shape));
  const gradients = new Float64Array(weights.length);
  const own = layerViews(shape, weights);
  const change = layerViews(shape, gradients);

  const hidden = (): Doubles => new Float64Array(mostRows * width);
  // What each layer was given, its filtered rows, and its mixed rows before they are held at 0.
  const entered = Array.from({ length: dilations.length + 1 }, hidden);
  const filtered = dilations.map(hidden);
  const mixed = dilations.map(hidden);
  const probabilities = new Float64Array(mostRows * classes);
  // On the way back: by the layer's result, by the mixed rows, by the filtered rows.
  const byResult = hidden();
  const byMixed = hidden();
  const byFiltered = hidden();
  const transposed = new Float64Array(Math.max(width, classes) * width);
  const none = new Float64Array(width);
  const contextFrames = dilations.reduce((sum, d) => sum + ((kernelFrames - 1) / 2) * d, 0);
  let rowCount = 0;

  return { shape, weights, gradients, probabilities, contextFrames, forward, backward };

  function forward(inputs: Doubles, count: number): void {
    rowCount = count;
    const numbers = count * width;
    const first = entered[0] as Doubles;
    multiplyRowsInto(first, inputs, own.entry.matrix, own.entry.bias, count, inputCount, width);
    for (let i = 0; i < numbers; i++) if ((first[i] as number) < 0) first[i] = 0;
    for (let l = 0; l < dilations.length; l++) {
      const { taps, matrix, bias, filter } = own.layers[l] as (typeof own.layers)[number];
      const from = entered[l] as Doubles;
      const to = entered[l + 1] as Doubles;
      const m = mixed[l] as Doubles;
      filterRowsInto(filtered[l] as Doubles, from, taps, count, filter);
      multiplyRowsInto(m, filtered[l] as Doubles, matrix, bias, count, width, width);
      for (let i = 0; i < numbers; i++) to[i] = (from[i] as number) + Math.max(0, m[i] as number);
    }
    const last = entered[dilations.length] as Doubles;
    multiplyRowsInto(probabilities, last, own.exit.matrix, own.exit.bias, count, width, classes);
    softmaxRows(probabilities, count, classes);
  }

  function backward(inputs: Doubles, outputChanges: Doubles): void {
    const numbers = rowCount * width;
    addOuterInto(
      change.exit.matrix,
      entered[dilations.length] as Doubles,
      outputChanges,
      rowCount,
      width,
      classes,
    );
    addRowsInto(change.exit.bias, outputChanges, rowCount, classes);
    transposeInto(transposed, own.exit.matrix, width, classes);
    multiplyRowsInto(byResult, outputChanges, transposed, none, rowCount, classes, width);
    for (let l = dilations.length - 1; l >= 0; l--) {
      const { taps, matrix, filter } = own.layers[l] as (typeof own.layers)[number];
      const into = change.layers[l] as (typeof change.layers)[number];
      keepWherePositive(mixed[l] as Doubles, numbers);
      addOuterInto(into.matrix, filtered[l] as Doubles, byMixed, rowCount, width, width);
      addRowsInto(into.bias, byMixed, rowCount, width);
      transposeInto(transposed, matrix, width, width);
      multiplyRowsInto(byFiltered, byMixed, transposed, none, rowCount, width, width);
      // The sum past the layer hands `byResult` on as it is; the filter adds its part.
      addFilterGradients(into.taps, byResult, entered[l] as Doubles, taps, byFiltered, rowCount, filter);
    }
    keepWherePositive(entered[0] as Doubles, numbers);
    addOuterInto(change.entry.matrix, inputs, byMixed, rowCount, inputCount, width);
    addRowsInto(change.entry.bias, byMixed, rowCount, width);
  }

  /** What was held at 0 passes nothing back. */
  function keepWherePositive(values: Doubles, numbers: number): void {
    for (let i = 0; i < numbers; i++) byMixed[i] = (values[i] as number) > 0 ? (byResult[i] as number) : 0;
  }
}

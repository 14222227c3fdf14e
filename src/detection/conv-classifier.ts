import { checkArray, checkDoubles, checkInteger, checkObject, rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { contextFrames, convLayout, layerFilters } from './conv-layout.js';
import { copyRows } from './copy-rows.js';
import { FRAME_CLASSES, MOST_FRAME_STEP } from './detection-scale.js';
import { filterRowsInto } from './filter-rows.js';
import type { FrameClassifier } from './frame-classifier.js';
import { multiplyRowsInto } from './multiply-rows.js';
import { softmaxRows } from './softmax-rows.js';
import { spreadRows } from './spread-rows.js';

/** A small convolutional network over time as plain data. */
export interface ConvModel {
  /** Numbers per frame that go in. */
  readonly inputCount: number;
  /** Width of every hidden layer. */
  readonly channelCount: number;
  /** Frames per filter; odd. */
  readonly kernelFrames: number;
  /** Distance in frames between a filter's taps, one entry per layer. */
  readonly dilations: readonly number[];
  /**
   * Of so many frames only the first is judged, 1 (default) to 16; the probabilities of those between lie in a straight line between theirs.
   * A layer computes only the rows that later ones read, which saves most where every dilation is a multiple of the one before.
   */
  readonly frameStep?: number;
  /** All weights, in the order that `convWeightCount` counts them. */
  readonly weights: Doubles;
}

/** More than any model of frames needs, and far from where counts would leave the whole numbers. */
const MOST_IN_MODEL = 65_536;

/**
 * Number of weights of a model of this shape: entry matrix and bias, then per layer filter taps, mixing matrix and
 * bias, then output matrix and bias; the order in which `weights` holds them.
 *
 * @throws TypeError or RangeError where a count or a dilation is no whole number from 1 to 65,536, or `kernelFrames` is even
 * @example
 * import { convWeightCount } from 'lenition/detection';
 * convWeightCount({ inputCount: 24, channelCount: 24, kernelFrames: 5, dilations: [1, 2, 4, 8] }); // => 3630
 */
export function convWeightCount(model: Omit<ConvModel, 'weights'>): number {
  return weightCount('convWeightCount', model);
}

function weightCount(functionName: string, model: Omit<ConvModel, 'weights'>): number {
  checkObject(functionName, 'model', model);
  const { inputCount, channelCount, kernelFrames, dilations } = model;
  checkInteger(functionName, 'model.inputCount', inputCount, 1, MOST_IN_MODEL);
  checkInteger(functionName, 'model.channelCount', channelCount, 1, MOST_IN_MODEL);
  checkInteger(functionName, 'model.kernelFrames', kernelFrames, 1, MOST_IN_MODEL);
  // As many taps before a frame as after it.
  if (kernelFrames % 2 === 0)
    throw rangeError(functionName, 'model.kernelFrames', 'must be odd', kernelFrames);
  checkArray(functionName, 'model.dilations', dilations);
  for (const dilation of dilations) checkInteger(functionName, 'model.dilations', dilation, 1, MOST_IN_MODEL);
  checkStep(functionName, model);
  const c = model.channelCount;
  const layer = c * model.kernelFrames + c * c + c;
  const classes = FRAME_CLASSES.length;
  return (model.inputCount + 1) * c + model.dilations.length * layer + (c + 1) * classes;
}

/** Where a layer leaves rows out, those it answers for must be in the middle of its filter. */
function checkStep(functionName: string, model: Omit<ConvModel, 'weights'>): void {
  const { kernelFrames, dilations, frameStep = 1 } = model;
  checkInteger(functionName, 'model.frameStep', frameStep, 1, MOST_FRAME_STEP);
  if (frameStep > 1 && dilations.length === 0)
    throw rangeError(functionName, 'model.frameStep', 'must be 1 where there is no layer', frameStep);
  for (const [l, { dilation, step }] of layerFilters(model).entries()) {
    const reach = ((kernelFrames - 1) / 2) * dilation;
    const rule = `must fit the filters: layer ${l + 1} reaches ${reach} rows, no multiple of its step of ${step}`;
    if (reach % step !== 0) throw rangeError(functionName, 'model.frameStep', rule, frameStep);
  }
}

/**
 * The classifier that a model describes. Per frame: h = max(0, x·W + b); then per layer
 * h ← h + max(0, D(h)·M + b), where D filters each channel over time by its own taps (a depthwise dilated
 * convolution; frames beyond the ends are 0) and M mixes channels; last the softmax of h·V + b. With a `frameStep` only the rows
 * 0, frameStep, 2·frameStep and so on of a stretch are judged, and those after the last of them are given its answer.
 * Source of the form: depthwise separable and dilated convolutions with residual sums, common in the literature on
 * sequence models (from memory: Bai, Kolter, Koltun, "An Empirical Evaluation of Generic Convolutional and Recurrent
 * Networks for Sequence Modeling", 2018).
 *
 * @throws TypeError or RangeError where a count or a dilation is no whole number from 1 to 65,536, `kernelFrames` is even, `frameStep` does not
 * fit the filters, or the weights do not fit the shape
 * @example
 * import { convWeightCount, createConvClassifier } from 'lenition/detection';
 * const shape = { inputCount: 24, channelCount: 4, kernelFrames: 3, dilations: [1, 2] };
 * const classifier = createConvClassifier({ ...shape, weights: new Float64Array(convWeightCount(shape)) });
 * classifier.contextFrames; // => 3
 */
export function createConvClassifier(model: ConvModel): FrameClassifier {
  const count = weightCount('createConvClassifier', model);
  const { inputCount, channelCount: width, frameStep = 1, weights } = model;
  checkDoubles('createConvClassifier', 'weights', weights, count);
  const classes = FRAME_CLASSES.length;
  const { entry, entryBias, layers, exit, exitBias } = convLayout(model);
  let now = new Float64Array(0);
  let filtered = new Float64Array(0);

  return Object.freeze({ inputCount, contextFrames: contextFrames(model), frameStep, classify });

  function classify(inputs: Doubles, rowCount: number, probabilities: Doubles): void {
    if (now.length < rowCount * width) {
      now = new Float64Array(rowCount * width);
      filtered = new Float64Array(rowCount * width);
    }
    multiplyRowsInto(now, inputs, entry, entryBias, rowCount, inputCount, width, 'rectify');
    let count = rowCount;
    for (const { filter, taps, mix, bias } of layers) {
      count = filterRowsInto(filtered, now, taps, count, filter);
      if (filter.step > 1) copyRows(now, now, count, width, filter.step);
      multiplyRowsInto(now, filtered, mix, bias, count, width, width, 'addRectified');
    }
    multiplyRowsInto(probabilities, now, exit, exitBias, count, width, classes);
    softmaxRows(probabilities, count, classes);
    if (count === rowCount) return;
    // What follows the last frame that was judged is as that one.
    probabilities.copyWithin(count * classes, (count - 1) * classes, count * classes);
    spreadRows(probabilities, probabilities, rowCount, frameStep, classes);
  }
}

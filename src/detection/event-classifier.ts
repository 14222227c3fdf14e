import type { Doubles } from '../signal/samples.js';
import { multiplyRowsInto } from './multiply-rows.js';
import { softmaxRows } from './softmax-rows.js';

/** A network with one hidden layer as plain data: measures of an event in, kinds out. */
export interface EventModel {
  /** How many measures an event has: numbers in. */
  readonly measureCount: number;
  /** Units of the hidden layer. */
  readonly hiddenCount: number;
  /** Mean of each measure in training. */
  readonly means: Doubles;
  /** Spread of each measure in training, above 0; a measure enters as (x − mean)/spread. */
  readonly spreads: Doubles;
  /** Hidden weights by measure, hidden biases, output weights by hidden unit, output biases. */
  readonly weights: Doubles;
}

/** One of the event classes. */
export type EventClass = 'none' | 'sibilant' | 'fricative' | 'burst' | 'breath';

/** What an event may be, in the order of the output: something that is none of them, or one of the four kinds. */
export const EVENT_CLASSES: readonly EventClass[] = Object.freeze([
  'none',
  'sibilant',
  'fricative',
  'burst',
  'breath',
]);

/** Probabilities of EVENT_CLASSES: softmax(tanh(z·W + b)·V + c). */
export function classifyEvent(model: EventModel, measures: ArrayLike<number>): Doubles {
  return createEventClassifier(model)(measures);
}

/** The same for many events, with memory that each of them uses again; the probabilities are new each time. */
export function createEventClassifier(model: EventModel): (measures: ArrayLike<number>) => Doubles {
  const { measureCount, hiddenCount, means, spreads, weights } = model;
  const classCount = EVENT_CLASSES.length;
  const biasAt = measureCount * hiddenCount;
  const outAt = biasAt + hiddenCount;
  const hiddenBiases = weights.subarray(biasAt, outAt);
  const outWeights = weights.subarray(outAt);
  const outBiases = weights.subarray(outAt + hiddenCount * classCount);
  const z = new Float64Array(measureCount);
  const hidden = new Float64Array(hiddenCount);
  return (measures) => {
    for (let i = 0; i < measureCount; i++)
      z[i] = ((measures[i] as number) - (means[i] as number)) / (spreads[i] as number);
    multiplyRowsInto(hidden, z, weights, hiddenBiases, 1, measureCount, hiddenCount);
    for (let j = 0; j < hiddenCount; j++) hidden[j] = Math.tanh(hidden[j] as number);
    const out = new Float64Array(classCount);
    multiplyRowsInto(out, hidden, outWeights, outBiases, 1, hiddenCount, classCount);
    softmaxRows(out, 1, classCount);
    return out;
  };
}

import type { Doubles } from '../signal/samples.js';

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
export function classifyEvent(model: EventModel, measures: Doubles): Doubles {
  const { measureCount, hiddenCount, means, spreads, weights } = model;
  const classCount = EVENT_CLASSES.length;
  const biasAt = measureCount * hiddenCount;
  const hidden = weights.slice(biasAt, biasAt + hiddenCount);
  // Measure by measure: the weights are read as they lie, and no sum waits for the one before.
  for (let i = 0, w = 0; i < measureCount; i++) {
    const z = ((measures[i] as number) - (means[i] as number)) / (spreads[i] as number);
    for (let j = 0; j < hiddenCount; j++, w++) hidden[j] = (hidden[j] as number) + (weights[w] as number) * z;
  }
  for (let j = 0; j < hiddenCount; j++) hidden[j] = Math.tanh(hidden[j] as number);
  const outAt = biasAt + hiddenCount;
  const out = new Float64Array(classCount);
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < classCount; k++) {
    let sum = weights[outAt + hiddenCount * classCount + k] as number;
    for (let j = 0; j < hiddenCount; j++)
      sum += (weights[outAt + j * classCount + k] as number) * (hidden[j] as number);
    out[k] = sum;
    most = Math.max(most, sum);
  }
  let total = 0;
  for (let k = 0; k < classCount; k++) {
    out[k] = Math.exp((out[k] as number) - most);
    total += out[k] as number;
  }
  for (let k = 0; k < classCount; k++) out[k] = (out[k] as number) / total;
  return out;
}

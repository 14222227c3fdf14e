import { EVENT_CLASSES, type EventModel } from '../../src/detection/event-classifier.js';
import type { Doubles } from '../../src/signal/samples.js';

/** The network of `classifyEvent` with the way back, for training. */
export interface EventNetwork {
  readonly weights: Doubles;
  readonly gradients: Doubles;
  /** Class probabilities of the last `forward`. */
  readonly probabilities: Doubles;
  /** Takes measures that are already scaled: (x − mean)/spread. */
  forward(scaled: Doubles): void;
  /** Adds the gradients of a loss, given its derivative by each output before the softmax. */
  backward(scaled: Doubles, outputChanges: Doubles): void;
}

/** Number of weights, in the order that EventModel describes. */
export function eventWeightCount({
  measureCount,
  hiddenCount,
}: Pick<EventModel, 'measureCount' | 'hiddenCount'>): number {
  return (measureCount + 1) * hiddenCount + (hiddenCount + 1) * EVENT_CLASSES.length;
}

/** Makes a network with all weights 0. */
export function createEventNetwork(shape: Pick<EventModel, 'measureCount' | 'hiddenCount'>): EventNetwork {
  const { measureCount, hiddenCount } = shape;
  const classes = EVENT_CLASSES.length;
  const weights = new Float64Array(eventWeightCount(shape));
  const gradients = new Float64Array(weights.length);
  const probabilities = new Float64Array(classes);
  const hidden = new Float64Array(hiddenCount);
  /** Derivative of the loss by each hidden unit's sum. */
  const bySum = new Float64Array(hiddenCount);
  const hiddenBias = measureCount * hiddenCount;
  const exit = hiddenBias + hiddenCount;
  const exitBias = exit + hiddenCount * classes;
  return { weights, gradients, probabilities, forward, backward };

  function forward(scaled: Doubles): void {
    for (let j = 0; j < hiddenCount; j++) hidden[j] = weights[hiddenBias + j] as number;
    for (let i = 0, at = 0; i < measureCount; i++) {
      const x = scaled[i] as number;
      for (let j = 0; j < hiddenCount; j++, at++)
        hidden[j] = (hidden[j] as number) + (weights[at] as number) * x;
    }
    for (let j = 0; j < hiddenCount; j++) hidden[j] = Math.tanh(hidden[j] as number);
    let total = 0;
    for (let k = 0; k < classes; k++) {
      let sum = weights[exitBias + k] as number;
      for (let j = 0; j < hiddenCount; j++)
        sum += (hidden[j] as number) * (weights[exit + j * classes + k] as number);
      // Sums of a few tanh values are too small to overflow.
      probabilities[k] = Math.exp(sum);
      total += probabilities[k] as number;
    }
    for (let k = 0; k < classes; k++) probabilities[k] = (probabilities[k] as number) / total;
  }

  function backward(scaled: Doubles, outputChanges: Doubles): void {
    for (let k = 0; k < classes; k++) add(exitBias + k, outputChanges[k] as number);
    for (let j = 0; j < hiddenCount; j++) {
      const h = hidden[j] as number;
      let byHidden = 0;
      for (let k = 0; k < classes; k++) {
        const change = outputChanges[k] as number;
        add(exit + j * classes + k, change * h);
        byHidden += change * (weights[exit + j * classes + k] as number);
      }
      // The derivative of tanh is 1 − tanh².
      bySum[j] = byHidden * (1 - h * h);
      add(hiddenBias + j, bySum[j] as number);
    }
    for (let i = 0, at = 0; i < measureCount; i++) {
      const x = scaled[i] as number;
      for (let j = 0; j < hiddenCount; j++, at++)
        gradients[at] = (gradients[at] as number) + (bySum[j] as number) * x;
    }
  }

  function add(at: number, change: number): void {
    gradients[at] = (gradients[at] as number) + change;
  }
}

import { EVENT_CLASSES, type EventModel } from '../../src/detection/event-classifier.js';
import { EVENT_MEASURE_COUNT } from '../../src/detection/event-measures.js';
import type { Doubles } from '../../src/signal/samples.js';
import { createAdam, learningShare } from './adam.js';
import type { LabelledEvent } from './collect-events.js';
import { createEventNetwork } from './event-network.js';
import { createRandom, type Random, shuffle } from './random.js';
import type { EventTrainingOptions } from './training-options.js';

const CLASSES = EVENT_CLASSES.length;
/** Least spread as a share of the greatest: packing rounds to 1/2047 of that, and nothing may be divided by 0. */
const LEAST_SPREAD = 0.002;

/** Trains one network that judges whole events. Throws where there is none to learn from. */
export function trainEventNetwork(
  events: readonly LabelledEvent[],
  options: EventTrainingOptions,
  seed: number,
): EventModel {
  if (events.length === 0)
    throw new RangeError('no event to learn from: train frames longer, or on more clips');
  const odd = events.find(({ measures }) => measures.length !== EVENT_MEASURE_COUNT);
  if (odd) throw new RangeError(`an event has ${odd.measures.length} measures, not ${EVENT_MEASURE_COUNT}`);
  const { hiddenCount, batchEvents, learningRate, weightDecay, epochs } = options;
  const shape = { measureCount: EVENT_MEASURE_COUNT, hiddenCount };
  const scale = measureScale(events);
  const random = createRandom(seed);
  const network = createEventNetwork(shape);
  for (let i = 0; i < network.weights.length; i++) network.weights[i] = startWeight(i, hiddenCount, random);
  const adam = createAdam(network.weights.length, weightDecay);
  const totalSteps = epochs * Math.ceil(events.length / batchEvents);
  const order = events.map((_, i) => i);
  const scaled = new Float64Array(EVENT_MEASURE_COUNT);
  const outputChanges = new Float64Array(CLASSES);
  for (let epoch = 0; epoch < epochs; epoch++) {
    shuffle(order, random);
    for (let first = 0; first < order.length; first += batchEvents) {
      const batch = order.slice(first, first + batchEvents);
      network.gradients.fill(0);
      for (const i of batch) {
        const event = events[i] as LabelledEvent;
        for (let m = 0; m < scaled.length; m++)
          scaled[m] = scale.of(event.measures, m) + options.inputNoise * random.normal();
        network.forward(scaled);
        for (let k = 0; k < CLASSES; k++)
          outputChanges[k] =
            (network.probabilities[k] as number) -
            (k === event.truth ? options.labelTarget : options.otherTarget);
        network.backward(scaled, outputChanges);
      }
      const share = learningShare(adam.stepCount + 1, totalSteps, 0);
      adam.step(network.weights, network.gradients, 1 / batch.length, learningRate * share);
    }
  }
  return { ...shape, means: scale.means, spreads: scale.spreads, weights: network.weights };
}

/** Normal, small enough that no hidden unit starts out at its limit; biases 0. */
function startWeight(i: number, hiddenCount: number, random: Random): number {
  const hiddenBias = EVENT_MEASURE_COUNT * hiddenCount;
  const exit = hiddenBias + hiddenCount;
  if (i < hiddenBias) return random.normal() * Math.sqrt(1 / EVENT_MEASURE_COUNT);
  if (i >= exit && i < exit + hiddenCount * CLASSES) return random.normal() * 0.3;
  return 0;
}

function measureScale(events: readonly LabelledEvent[]): {
  readonly means: Doubles;
  readonly spreads: Doubles;
  of(measures: Doubles, m: number): number;
} {
  const means = new Float64Array(EVENT_MEASURE_COUNT);
  const spreads = new Float64Array(EVENT_MEASURE_COUNT);
  for (let m = 0; m < means.length; m++) {
    let sum = 0;
    for (const { measures } of events) sum += measures[m] as number;
    const mean = sum / events.length;
    let squares = 0;
    for (const { measures } of events) squares += ((measures[m] as number) - mean) ** 2;
    means[m] = mean;
    spreads[m] = Math.sqrt(squares / events.length);
  }
  const least = Math.max(1e-9, LEAST_SPREAD * Math.max(...spreads));
  for (let m = 0; m < spreads.length; m++) spreads[m] = Math.max(least, spreads[m] as number);
  const of = (measures: Doubles, m: number): number =>
    ((measures[m] as number) - (means[m] as number)) / (spreads[m] as number);
  return { means, spreads, of };
}

import { classifyEvent, EVENT_CLASSES, type EventModel } from '../../src/detection/event-classifier.js';
import type { LabelledEvent } from './collect-events.js';

const CLASSES = EVENT_CLASSES.length;
const LEAST_PROBABILITY = 1e-9;
/** Temperatures that are looked at, as logarithms, and how finely. */
const LEAST_LOG = -1;
const MOST_LOG = 2;
const STEPS = 40;
const GOLDEN: number = (Math.sqrt(5) - 1) / 2;

/** An event that was judged by a network that never learned from it: probabilities of EVENT_CLASSES, and the truth. */
export interface JudgedEvent {
  readonly shares: Float64Array;
  readonly truth: number;
}

/** Judges events. */
export function judgeEvents(model: EventModel, events: readonly LabelledEvent[]): readonly JudgedEvent[] {
  return events.map(({ measures, truth }) => ({
    shares: Float64Array.from(classifyEvent(model, measures)),
    truth,
  }));
}

/**
 * The temperature at which confidence means what it says: logits divided by it give the least mean −ln(probability of
 * the truth) over events that were held out. Over 1 where the network is surer than it is right. One number for all
 * classes, so no decision changes. Source: Guo et al., "On calibration of modern neural networks", 2017 (from memory).
 */
export function fitTemperature(events: readonly JudgedEvent[]): number {
  let low = LEAST_LOG;
  let high = MOST_LOG;
  // The loss is convex in 1/T, so it has one valley and a golden-section search finds its floor.
  for (let step = 0; step < STEPS; step++) {
    const left = high - GOLDEN * (high - low);
    const right = low + GOLDEN * (high - low);
    if (lossAt(events, Math.exp(left)) < lossAt(events, Math.exp(right))) high = right;
    else low = left;
  }
  return Math.exp((low + high) / 2);
}

function lossAt(events: readonly JudgedEvent[], temperature: number): number {
  let loss = 0;
  for (const { shares, truth } of events) {
    let total = 0;
    for (const share of shares) total += Math.max(share, LEAST_PROBABILITY) ** (1 / temperature);
    loss -= Math.log(Math.max(shares[truth] as number, LEAST_PROBABILITY) ** (1 / temperature) / total);
  }
  return loss / Math.max(1, events.length);
}

/** The same network with its logits divided by a temperature. */
export function atTemperature(model: EventModel, temperature: number): EventModel {
  const exitAt = (model.measureCount + 1) * model.hiddenCount;
  if (model.weights.length !== exitAt + (model.hiddenCount + 1) * CLASSES)
    throw new RangeError(`a network for events has another shape: ${model.weights.length} weights`);
  return {
    ...model,
    weights: model.weights.map((weight, i) => (i < exitAt ? weight : weight / temperature)),
  };
}

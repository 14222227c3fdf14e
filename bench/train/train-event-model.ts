import { EVENT_CLASSES, type EventModel } from '../../src/detection/event-classifier.js';
import type { LabelledEvent } from './collect-events.js';
import { trainEventNetwork } from './event-trainer.js';
import type { EventTrainingOptions } from './training-options.js';

const CLASSES = EVENT_CLASSES.length;

/**
 * Trains several networks on the same events from different starts and joins them: the mean of their outputs before
 * the softmax is one network whose hidden units are all of theirs. A single one of so few units depends on its start.
 */
export function trainEventModel(
  events: readonly LabelledEvent[],
  options: EventTrainingOptions,
  seed: number,
): EventModel {
  const models = Array.from({ length: options.networkCount }, (_, n) =>
    trainEventNetwork(events, options, seed + n),
  );
  return joinEventModels(models);
}

/** One network that gives the mean of several; they share means and spreads, having seen the same events. */
export function joinEventModels(models: readonly EventModel[]): EventModel {
  const [first] = models as readonly [EventModel];
  const { measureCount, hiddenCount, means, spreads } = first;
  const count = models.length;
  const joined = hiddenCount * count;
  const weights = new Float64Array((measureCount + 1) * joined + (joined + 1) * CLASSES);
  const exitAt = (measureCount + 1) * joined;
  for (const [n, model] of models.entries()) {
    const exit = (measureCount + 1) * hiddenCount;
    // Rows of measures, then the row of biases.
    for (let row = 0; row <= measureCount; row++)
      for (let j = 0; j < hiddenCount; j++)
        weights[row * joined + n * hiddenCount + j] = model.weights[row * hiddenCount + j] as number;
    for (let j = 0; j < hiddenCount; j++)
      for (let k = 0; k < CLASSES; k++)
        weights[exitAt + (n * hiddenCount + j) * CLASSES + k] =
          (model.weights[exit + j * CLASSES + k] as number) / count;
    for (let k = 0; k < CLASSES; k++) {
      const bias = exitAt + joined * CLASSES + k;
      weights[bias] =
        (weights[bias] as number) + (model.weights[exit + hiddenCount * CLASSES + k] as number) / count;
    }
  }
  return { measureCount, hiddenCount: joined, means, spreads, weights };
}

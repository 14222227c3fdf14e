import { describe, expect, it } from 'vitest';
import { joinEventModels } from '../../bench/train/train-event-model.js';
import { classifyEvent, type EventModel } from '../../src/detection/event-classifier.js';
import { mulberry32 } from '../lib/random.js';

/** A network of random weights over three measures. */
function randomModel(seed: number): EventModel {
  const random = mulberry32(seed);
  const weights = Float64Array.from({ length: 4 * 2 + 3 * 5 }, () => 2 * random() - 1);
  const means = Float64Array.of(0.1, -0.2, 0.3);
  return { measureCount: 3, hiddenCount: 2, means, spreads: Float64Array.of(1, 2, 0.5), weights };
}

describe('joinEventModels', () => {
  it('gives the softmax of the mean of the logits of its networks', () => {
    const models = [randomModel(1), randomModel(2), randomModel(3)];
    const joined = joinEventModels(models);
    expect(joined.hiddenCount).toBe(6);
    const measures = Float64Array.of(0.4, 1.1, -0.7);
    // Softmax of a mean of logits: the geometric mean of the probabilities, scaled to sum to 1.
    const products = [0, 1, 2, 3, 4].map((k) =>
      Math.exp(models.reduce((sum, m) => sum + Math.log(classifyEvent(m, measures)[k]!), 0) / 3),
    );
    const total = products.reduce((a, b) => a + b);
    const shares = classifyEvent(joined, measures);
    for (const [k, product] of products.entries()) expect(shares[k]).toBeCloseTo(product / total, 12);
  });
});

import { describe, expect, it } from 'vitest';
import type { LabelledEvent } from '../../bench/train/collect-events.js';
import { createEventNetwork } from '../../bench/train/event-network.js';
import { trainEventNetwork } from '../../bench/train/event-trainer.js';
import { createRandom } from '../../bench/train/random.js';
import { DEFAULT_TRAINING_OPTIONS } from '../../bench/train/training-options.js';
import { classifyEvent, EVENT_CLASSES } from '../../src/detection/event-classifier.js';
import { EVENT_MEASURE_COUNT } from '../../src/detection/event-measures.js';
import { packWeights, unpackWeights } from '../../src/detection/packed-weights.js';

const SHAPE = { measureCount: 4, hiddenCount: 3 };

function network() {
  const random = createRandom(5);
  const made = createEventNetwork(SHAPE);
  for (let i = 0; i < made.weights.length; i++) made.weights[i] = 0.7 * random.normal();
  return made;
}

describe('createEventNetwork', () => {
  const scaled = Float64Array.of(0.3, -1.2, 0.8, 2);

  it('gives the probabilities of classifyEvent', () => {
    const net = network();
    const means = Float64Array.of(1, 2, -3, 0.5);
    const spreads = Float64Array.of(2, 0.1, 1, 4);
    net.forward(scaled);
    const expected = classifyEvent(
      { ...SHAPE, means, spreads, weights: net.weights },
      scaled.map((z, i) => z * spreads[i]! + means[i]!),
    );
    for (let k = 0; k < expected.length; k++) expect(net.probabilities[k]).toBeCloseTo(expected[k]!, 10);
  });

  it('has the gradients that finite differences find, for every weight', () => {
    const net = network();
    const targets = [0.1, 0.5, 0.2, 0.15, 0.05];
    const loss = (): number => {
      net.forward(scaled);
      return targets.reduce((sum, target, k) => sum - target * Math.log(net.probabilities[k]!), 0);
    };
    loss();
    net.backward(
      scaled,
      Float64Array.from(targets, (target, k) => net.probabilities[k]! - target),
    );
    const step = 1e-5;
    for (let i = 0; i < net.weights.length; i++) {
      const weight = net.weights[i]!;
      net.weights[i] = weight + step;
      const above = loss();
      net.weights[i] = weight - step;
      const below = loss();
      net.weights[i] = weight;
      // Central differences: error about step² and, in rounding, 1e-16/step.
      expect(Math.abs((above - below) / (2 * step) - net.gradients[i]!)).toBeLessThan(1e-7);
    }
  });
});

describe('trainEventNetwork', () => {
  /** Events of two kinds that differ in one measure by four of its standard deviations; another measure never changes. */
  function events(count: number, seed: number): LabelledEvent[] {
    const random = createRandom(seed);
    return Array.from({ length: count }, (_, i) => {
      const truth = EVENT_CLASSES.indexOf(i % 2 === 0 ? 'sibilant' : 'burst');
      const measures = Float64Array.from({ length: EVENT_MEASURE_COUNT }, () => random.normal());
      measures[7] = 30 + 4 * (i % 2) + random.normal();
      measures[9] = 2;
      return { measures, truth };
    });
  }
  const options = { ...DEFAULT_TRAINING_OPTIONS.events, epochs: 15 };
  const model = trainEventNetwork(events(2000, 1), options, 1);

  it('learns to tell apart what can be told apart', () => {
    const judged = events(1000, 2).map(({ measures, truth }) => {
      const shares = classifyEvent(model, measures);
      return shares.indexOf(Math.max(...shares)) === truth;
    });
    // Two normal distributions four deviations apart: the best rule is right in Φ(2) = 97.7 %, and 1000 draws
    // of that spread by 0.5 %; 95 % leaves room for a net that is not the best rule.
    expect(judged.filter((right) => right).length).toBeGreaterThan(950);
  });

  it('can be packed: no spread rounds to 0, though a measure never changed', () => {
    expect(Math.min(...unpackWeights(packWeights(model.spreads)))).toBeGreaterThan(0);
  });

  it('gives the same weights for the same seed and others for another', () => {
    const short = { ...options, epochs: 1 };
    const first = trainEventNetwork(events(100, 1), short, 1).weights;
    expect(trainEventNetwork(events(100, 1), short, 1).weights).toEqual(first);
    expect(trainEventNetwork(events(100, 1), short, 2).weights).not.toEqual(first);
  });

  it('refuses to learn from nothing', () => {
    expect(() => trainEventNetwork([], options, 1)).toThrow(/no event to learn from/);
  });
});

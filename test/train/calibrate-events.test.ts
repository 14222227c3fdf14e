import { describe, expect, it } from 'vitest';
import { atTemperature, fitTemperature } from '../../bench/train/calibrate-events.js';
import { createRandom } from '../../bench/train/random.js';
import { classifyEvent } from '../../src/detection/event-classifier.js';

/** Events of two classes whose truth is drawn with probability p, while the network says what p is at `temperature`. */
function judgedAt(temperature: number) {
  const random = createRandom(4);
  return Array.from({ length: 4000 }, () => {
    const logit = 3 * random.normal();
    const p = 1 / (1 + Math.exp(-logit));
    const said = 1 / (1 + Math.exp(-logit * temperature));
    return { shares: Float64Array.of(1 - said, said, 0, 0, 0), truth: random.uniform() < p ? 1 : 0 };
  });
}

describe('fitTemperature', () => {
  // The fit's standard error on 4,000 such events is some 3 %, worked out from the curvature of the loss; 10 % is three of them.
  for (const temperature of [0.5, 1, 2.5])
    it(`finds ${temperature} where the logits are that much too large`, () => {
      expect(fitTemperature(judgedAt(temperature)) / temperature).toBeGreaterThan(0.9);
      expect(fitTemperature(judgedAt(temperature)) / temperature).toBeLessThan(1.1);
    });
});

describe('atTemperature', () => {
  it('raises shares to the power 1/T, before they are made to sum to 1, and no decision changes', () => {
    const random = createRandom(1);
    const model = {
      measureCount: 2,
      hiddenCount: 3,
      means: Float64Array.of(0, 0),
      spreads: Float64Array.of(1, 1),
      weights: Float64Array.from({ length: 3 * 3 + 4 * 5 }, () => random.normal()),
    };
    const measures = Float64Array.of(0.4, -1);
    const shares = classifyEvent(model, measures);
    const raised = shares.map((share) => share ** (1 / 1.7));
    const total = raised.reduce((sum, share) => sum + share, 0);
    const softer = classifyEvent(atTemperature(model, 1.7), measures);
    softer.forEach((share, k) => {
      expect(share).toBeCloseTo((raised[k] as number) / total, 12);
    });
  });

  it('refuses a network of another shape', () => {
    const model = {
      measureCount: 2,
      hiddenCount: 3,
      means: new Float64Array(2),
      spreads: new Float64Array(2),
      weights: new Float64Array(5),
    };
    expect(() => atTemperature(model, 2)).toThrow(/another shape/);
  });
});

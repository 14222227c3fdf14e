import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { classifyEvent, EVENT_CLASSES, type EventModel } from '../../src/detection/event-classifier.js';

const CLASSES = EVENT_CLASSES.length;

describe('the event classifier', () => {
  it('gives what a model of one measure and one hidden unit gives by hand', () => {
    // z = (7 − 3)/2 = 2; hidden = tanh(2w + b) with w = ½·artanh ½ − ½, b = 1: tanh(artanh ½) = ½.
    // Logits: 2·ln 2·k·½ = k·ln 2, so the shares stand as 1 : 2 : 4 : 8 : 16, in all 31.
    const model: EventModel = {
      measureCount: 1,
      hiddenCount: 1,
      means: Float64Array.of(3),
      spreads: Float64Array.of(2),
      weights: Float64Array.of(
        0.5 * Math.atanh(0.5) - 0.5,
        1,
        ...Array.from({ length: 5 }, (_, k) => 2 * Math.LN2 * k),
        ...new Array<number>(5).fill(0.7),
      ),
    };
    const shares = classifyEvent(model, Float64Array.of(7));
    expect(shares.length).toBe(5);
    [1, 2, 4, 8, 16].forEach((part, k) => {
      expect(shares[k]).toBeCloseTo(part / 31, 14);
    });
  });

  it('reads hidden weights by measure and output weights by hidden unit', () => {
    // Two measures, two units. Only measure 1 → unit 0 and unit 0 → class 3 are joined, both by 1.
    const weights = new Float64Array(2 * 2 + 2 + 2 * CLASSES + CLASSES);
    weights[1 * 2 + 0] = 1;
    weights[6 + 0 * CLASSES + 3] = 1;
    const model: EventModel = {
      measureCount: 2,
      hiddenCount: 2,
      means: new Float64Array(2),
      spreads: Float64Array.of(1, 1),
      weights,
    };
    const e = Math.exp(Math.tanh(0.3));
    expect(classifyEvent(model, Float64Array.of(99, 0.3))[3]).toBeCloseTo(e / (e + 4), 14);
    expect(classifyEvent(model, Float64Array.of(99, 0))[3]).toBeCloseTo(0.2, 14);
  });

  it('gives shares that sum to 1, however great the logits', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 4 }),
        fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true })),
        fc.constantFrom(1, 50, 2000),
        (measureCount, hiddenCount, numbers, scale) => {
          const next = (): number => numbers.next().value as number;
          const count = (measureCount + 1) * hiddenCount + (hiddenCount + 1) * CLASSES;
          const model: EventModel = {
            measureCount,
            hiddenCount,
            means: Float64Array.from({ length: measureCount }, next),
            spreads: Float64Array.from({ length: measureCount }, () => 0.1 + Math.abs(next())),
            weights: Float64Array.from({ length: count }, () => scale * next()),
          };
          const shares = classifyEvent(
            model,
            Float64Array.from({ length: measureCount }, () => 10 * next()),
          );
          expect(shares.every((share) => share >= 0 && share <= 1)).toBe(true);
          // Five roundings of a sum near 1.
          expect(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 1)).toBeLessThan(1e-14);
        },
      ),
    );
  });
});

import { describe, expect, it } from 'vitest';
import { createAdam, learningShare } from '../../bench/train/adam.js';

describe('createAdam', () => {
  it('takes a first step of the learning rate against the sign of each gradient, whatever its size', () => {
    // Kingma and Ba 2015, section 2.1 (from memory): the corrected first step is rate · g/(|g| + 1e-8).
    const weights = Float64Array.of(1, 1, 1);
    createAdam(3, 0).step(weights, Float64Array.of(5, -0.02, 0), 1, 0.1);
    expect(weights[0]).toBeCloseTo(0.9, 6);
    expect(weights[1]).toBeCloseTo(1.1, 6);
    expect(weights[2]).toBe(1);
  });

  it('follows its formula over two steps', () => {
    const weights = Float64Array.of(0);
    const adam = createAdam(1, 0);
    adam.step(weights, Float64Array.of(1), 2, 0.1);
    adam.step(weights, Float64Array.of(-1), 2, 0.1);
    // m = 0.9·0.2 − 0.2 = −0.02, corrected by 1 − 0.81: −0.105263; v = 0.999·0.004 + 0.004, corrected by 1 − 0.998001: 4.
    expect(weights[0]).toBeCloseTo(-0.1 + 0.1 * (0.105263158 / 2), 7);
    expect(adam.stepCount).toBe(2);
  });

  it('decays weights by rate times decay where there is no gradient', () => {
    const weights = Float64Array.of(10);
    createAdam(1, 0.5).step(weights, Float64Array.of(0), 1, 0.1);
    expect(weights[0]).toBeCloseTo(10 * (1 - 0.1 * 0.5), 12);
  });
});

describe('learningShare', () => {
  it('rises straight, stands at half after half the steps and ends at 0', () => {
    expect(learningShare(5, 1000, 50)).toBeCloseTo(0.1, 3);
    expect(learningShare(500, 1000, 50)).toBeCloseTo(0.5, 12);
    expect(learningShare(1000, 1000, 50)).toBeCloseTo(0, 12);
    expect(learningShare(1, 1000, 0)).toBeGreaterThan(0.99);
  });
});

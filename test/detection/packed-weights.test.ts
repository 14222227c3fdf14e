import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packWeights, unpackWeights } from '../../src/detection/packed-weights.js';

describe('packed weights', () => {
  it('come back within half a step, and the step is the greatest magnitude over 2^(bits − 1) − 1', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 300 }),
        fc.integer({ min: -6, max: 6 }),
        fc.integer({ min: 2, max: 12 }),
        (units, exponent, bits) => {
          const values = Float64Array.from(units, (u) => u * 10 ** exponent);
          const packed = packWeights(values, bits);
          const back = unpackWeights(packed);
          const most = values.reduce((sofar, value) => Math.max(sofar, Math.abs(value)), 0);
          expect(back.length).toBe(values.length);
          expect(packed.digits).toMatch(/^[A-Za-z0-9_-]*$/);
          // The step is written with six digits; under 1e-9 the library does not tell numbers from 0.
          expect(packed.step).toBeLessThanOrEqual(
            (Math.max(most, 1e-9) / (2 ** (bits - 1) - 1)) * (1 + 5.01e-6),
          );
          for (let i = 0; i < values.length; i++)
            expect(Math.abs(back[i]! - values[i]!)).toBeLessThanOrEqual(packed.step * 0.5 * (1 + 1e-9));
        },
      ),
    );
  });

  it('lose nothing when packed a second time with the same step', () => {
    const values = Float64Array.from({ length: 4095 }, (_, i) => (i - 2047) * 0.25);
    const packed = packWeights(values);
    expect(packed.step).toBe(0.25);
    expect(unpackWeights(packed)).toEqual(values);
    expect(packWeights(unpackWeights(packed))).toEqual(packed);
  });

  it('are rounded to one of 4,096 steps where nothing else is asked for', () => {
    const values = Float64Array.of(1, 0.3);
    expect(packWeights(values)).toEqual(packWeights(values, 12));
    expect(packWeights(values, 9).step).toBe(0.00392157);
  });

  it('read two base-64 digits each, the upper ones of all before the lower ones, offset by 2048', () => {
    // By hand: A = 0 … Z = 25, a = 26, g = 32, z = 51, _ = 63. gA = 32·64 = 2048 → 0; gB → 1; f_ = 31·64 + 63 → −1; AA → −2048; __ → 2047.
    expect([...unpackWeights({ step: 0.5, digits: 'ggfA_AB_A_' })]).toEqual([0, 0.5, -0.5, -1024, 1023.5]);
  });

  it('allow none at all', () => {
    expect(unpackWeights(packWeights(new Float64Array(0))).length).toBe(0);
    expect([...unpackWeights(packWeights(new Float64Array(3)))]).toEqual([0, 0, 0]);
  });
});

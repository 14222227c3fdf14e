import { describe, expect, it } from 'vitest';
import { spectralFlatness } from '../../src/features/spectral-flatness.js';

// Definition: geometric over arithmetic mean of power (references.md C3: READ there).
describe('spectralFlatness', () => {
  it('is the geometric over the arithmetic mean', () => {
    expect(spectralFlatness(Float64Array.of(1, 4), 1)).toBeCloseTo(2 / 2.5, 14);
    // 33 bins: two whole products of 16 and a rest. Geometric mean of 2^0 … 2^32 is 2^16, their sum 2^33 − 1.
    const powers = Float64Array.from({ length: 33 }, (_, k) => 2 ** k);
    expect(spectralFlatness(powers, 1)).toBeCloseTo((2 ** 16 * 33) / (2 ** 33 - 1), 14);
  });

  it('is 1 for equal bins at any level from 1e-290 to 1e290', () => {
    for (const power of [1e-290, 1e-30, 1, 1e30, 1e290])
      expect(spectralFlatness(new Float64Array(100).fill(power), 1)).toBeCloseTo(1, 12);
  });

  it('counts an exact zero as 1e-12 of the mean', () => {
    // Mean 3/4, so shares of 4/3, 4/3, 4/3 and 1e-12.
    const expected = ((4 / 3) ** 3 * 1e-12) ** 0.25;
    expect(spectralFlatness(Float64Array.of(0, 1, 1, 1), 1)).toBeCloseTo(expected, 14);
  });

  it('does not underflow when all bins but one are empty', () => {
    // One bin of n holds all: share n, and 1e-12 for the other n − 1.
    const power = new Float64Array(64);
    power[20] = 1;
    expect(spectralFlatness(power, 1) / (64 ** (1 / 64) * 1e-12 ** (63 / 64))).toBeCloseTo(1, 10);
  });

  it('is 0 for silence and for a band without a bin', () => {
    expect(spectralFlatness(new Float64Array(8), 1)).toBe(0);
    expect(spectralFlatness(Float64Array.of(1, 1), 100, { lowHz: 10, highHz: 20 })).toBe(0);
  });

  it('refuses what is not a power spectrum', () => {
    expect(() => spectralFlatness(Float64Array.of(1, -1), 1)).toThrow(/power\[1\]/);
    expect(() => spectralFlatness(Float64Array.of(Number.NaN), 1)).toThrow(/power\[0\]/);
    expect(() => spectralFlatness(new Float64Array(0), 1)).toThrow(/power.length/);
    expect(() => spectralFlatness(Float64Array.of(1), 0)).toThrow(/binHz/);
    expect(() => spectralFlatness(new Float32Array(2) as never, 1)).toThrow(TypeError);
  });
});

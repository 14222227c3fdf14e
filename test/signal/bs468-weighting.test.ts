import { expect, test } from 'vitest';
import { bs468LevelDb, bs468WeightingDb } from '../../src/signal/bs468-weighting.js';

// ITU-R BS.468-4 table: Hz, dB, tolerance up, tolerance down (READ-CODE avtools-io/itu-r-468-weighting tests/constants.py).
// The standard gives no tolerance at 6.3 kHz; 0.05 dB is the rounding of its printed value.
test.each([
  [31.5, -29.9, 2, 2],
  [63, -23.9, 1.4, 1.4],
  [100, -19.8, 1, 1],
  [200, -13.8, 0.85, 0.85],
  [400, -7.8, 0.7, 0.7],
  [800, -1.9, 0.55, 0.55],
  [1000, 0, 0.5, 0.5],
  [2000, 5.6, 0.5, 0.5],
  [3150, 9, 0.5, 0.5],
  [4000, 10.5, 0.5, 0.5],
  [5000, 11.7, 0.5, 0.5],
  [6300, 12.2, 0.05, 0.05],
  [7100, 12, 0.2, 0.2],
  [8000, 11.4, 0.4, 0.4],
  [9000, 10.1, 0.6, 0.6],
  [10000, 8.1, 0.8, 0.8],
  [12500, 0, 1.2, 1.2],
  [14000, -5.3, 1.4, 1.4],
  [16000, -11.7, 1.6, 1.6],
  [20000, -22.2, 2, 2],
  [31500, -42.7, 2.8, Number.POSITIVE_INFINITY],
])('%f Hz is weighted by %f dB', (frequencyHz, dB, up, down) => {
  const difference = bs468WeightingDb(frequencyHz) - dB;
  expect(difference).toBeLessThanOrEqual(up);
  expect(difference).toBeGreaterThanOrEqual(-down);
  // The closed form keeps within 0.072 dB of the whole table (same source), 0.073 with its last digit's rounding.
  expect(Math.abs(difference)).toBeLessThan(0.073);
});

test('0 Hz weighs nothing', () => {
  expect(bs468WeightingDb(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(bs468LevelDb(Float64Array.of(5), Float64Array.of(0))).toBe(Number.NEGATIVE_INFINITY);
});

test('powers add after weighting: equal ones at 1 and 6.3 kHz read 10·log10(1 + 10^1.22)', () => {
  const level = bs468LevelDb(Float64Array.of(1, 1), Float64Array.of(1000, 6300));
  // 0.05 dB: the printed weights are rounded to 0.1 dB.
  expect(Math.abs(level - 10 * Math.log10(1 + 10 ** 1.22))).toBeLessThan(0.05);
});

test('twice the power reads 3.0103 dB more', () => {
  const frequencies = Float64Array.of(500, 5000, 9000);
  const difference =
    bs468LevelDb(Float64Array.of(2, 4, 6), frequencies) - bs468LevelDb(Float64Array.of(1, 2, 3), frequencies);
  expect(difference).toBeCloseTo(10 * Math.log10(2), 10);
});

test('empty and silent spectra read −Infinity', () => {
  expect(bs468LevelDb(new Float64Array(0), new Float64Array(0))).toBe(Number.NEGATIVE_INFINITY);
  expect(bs468LevelDb(new Float64Array(2), Float64Array.of(1000, 2000))).toBe(Number.NEGATIVE_INFINITY);
});

test('negative powers and frequencies, NaN, uneven lengths and other arrays are refused', () => {
  expect(() => bs468WeightingDb(-1)).toThrow(RangeError);
  expect(() => bs468WeightingDb(Number.NaN)).toThrow(RangeError);
  expect(() => bs468WeightingDb('1000' as never)).toThrow(TypeError);
  expect(() => bs468LevelDb(Float64Array.of(1, -1), Float64Array.of(1, 2))).toThrow('power[1]');
  expect(() => bs468LevelDb(Float64Array.of(1), Float64Array.of(1, 2))).toThrow('frequenciesHz.length');
  expect(() => bs468LevelDb([1] as never, Float64Array.of(1))).toThrow(TypeError);
  expect(() => bs468LevelDb(Float64Array.of(1), [1] as never)).toThrow(TypeError);
});

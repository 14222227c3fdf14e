import fc from 'fast-check';
import { expect, test } from 'vitest';
import { compressionGainAt } from '../../src/forecast/compression-curve.js';
import { smoothingCoefficient } from '../../src/forecast/smoothing-coefficient.js';

// Giannoulis, Massberg and Reiss 2012; values of references.md C6 (curve READ-CODE, GMR from memory; the numbers computed from its figures).
// 1e-12: a few roundings of doubles near 10.
test('the soft-knee curve gives the published gains at T −20, R 4, W 10', () => {
  const curve = { thresholdDb: -20, ratio: 4, kneeDb: 10 };
  const points: readonly [number, number][] = [
    [-25, 0],
    [-22, -0.3375],
    [-20, -0.9375],
    [-18, -1.8375],
    [-15, -3.75],
    [-10, -7.5],
    [0, -15],
  ];
  for (const [levelDb, gainDb] of points)
    expect(Math.abs(compressionGainAt(levelDb, curve) - gainDb)).toBeLessThan(1e-12);
});

test('without a knee the curve is two straight lines', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -80, max: 20, noNaN: true }),
      fc.double({ min: -60, max: 0, noNaN: true }),
      fc.double({ min: 1, max: 100, noNaN: true }),
      (levelDb, thresholdDb, ratio) => {
        const expected = levelDb <= thresholdDb ? 0 : (levelDb - thresholdDb) * (1 / ratio - 1);
        expect(Math.abs(compressionGainAt(levelDb, { thresholdDb, ratio }) - expected)).toBeLessThan(1e-12);
      },
    ),
    { seed: 1 },
  );
});

test('value and slope of the knee meet the lines on both sides', () => {
  const curve = { thresholdDb: -30, ratio: 3, kneeDb: 12 };
  const gain = (levelDb: number) => compressionGainAt(levelDb, curve);
  // A step of 1e-4 dB: the curvature (slope over knee) times the step, 6e-6, bounds what slopes may differ by.
  const slope = (levelDb: number) => (gain(levelDb + 1e-4) - gain(levelDb)) / 1e-4;
  expect(Math.abs(slope(-36) - 0)).toBeLessThan(1e-5);
  expect(Math.abs(slope(-24 - 1e-4) - (1 / 3 - 1))).toBeLessThan(1e-5);
  expect(Math.abs(gain(-24 - 1e-9) - gain(-24))).toBeLessThan(1e-8);
});

test('silence and ratio 1 give no gain, a limiter holds the threshold', () => {
  expect(compressionGainAt(Number.NEGATIVE_INFINITY, { thresholdDb: -20, ratio: 4 })).toBe(0);
  expect(compressionGainAt(0, { thresholdDb: -20, ratio: 1, kneeDb: 6 })).toBe(0);
  expect(compressionGainAt(-3, { thresholdDb: -20, ratio: Number.POSITIVE_INFINITY })).toBe(-17);
});

test('values that cannot be are refused by name', () => {
  expect(() => compressionGainAt(0, { thresholdDb: -20, ratio: 0.5 })).toThrow(
    'compressionGainAt: ratio must lie within [1, Infinity]; received 0.5',
  );
  expect(() => compressionGainAt(Number.NaN, { thresholdDb: -20, ratio: 2 })).toThrow(RangeError);
  expect(() => compressionGainAt(0, { thresholdDb: -20, ratio: 2, kneeDb: -1 })).toThrow(RangeError);
  expect(() => smoothingCoefficient(-0.1, { sampleRateHz: 48000 })).toThrow(
    'smoothingCoefficient: timeSeconds',
  );
  expect(() => smoothingCoefficient(0.1, { sampleRateHz: 7999 })).toThrow(
    'smoothingCoefficient: sampleRateHz',
  );
});

// α = exp(−1/(τ·rate)) (from memory), its values at 48 kHz computed from its figures: references.md C6, to the ten digits given there.
test('time constants have the published coefficients', () => {
  expect(smoothingCoefficient(0.01, { sampleRateHz: 48000 })).toBeCloseTo(0.9979188353, 10);
  expect(smoothingCoefficient(0.1, { sampleRateHz: 48000 })).toBeCloseTo(0.9997916884, 10);
  expect(smoothingCoefficient(0, { sampleRateHz: 48000 })).toBe(0);
});

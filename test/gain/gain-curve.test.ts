import { expect, test } from 'vitest';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';

const LIST = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 100 }), [
  { startSample: 10, endSample: 30, gainDb: -6, fadeInSamples: 5, fadeOutSamples: 5 },
  { startSample: 30, endSample: 40, gainDb: -12, fadeInSamples: 3, fadeOutSamples: 0 },
  { startSample: 50, endSample: 60, gainDb: -6, bypassed: true },
  { startSample: 95, endSample: 100, gainDb: -20, fadeInSamples: 0, fadeOutSamples: 0 },
]);

test('the curve of any stretch holds the gains that gainAt gives one by one', () => {
  const whole = Float64Array.from({ length: 100 }, (_, i) => gainAt(LIST, i));
  for (let start = 0; start <= 100; start += 7) {
    for (const length of [0, 1, 13, 100 - start]) {
      if (start + length > 100) continue;
      const out = new Float64Array(length).fill(9);
      gainCurveInto(out, LIST, start);
      expect(out).toEqual(whole.slice(start, start + length));
    }
  }
});

test('held gains are 10^(dB/20), and 1 where nothing is turned down', () => {
  const out = new Float64Array(100);
  gainCurveInto(out, LIST, 0);
  expect(out[9]).toBe(1);
  // One double rounding of the power and one of the quotient.
  expect(out[20]).toBeCloseTo(10 ** (-6 / 20), 14);
  expect(out[35]).toBeCloseTo(10 ** (-12 / 20), 14);
  expect(out[55]).toBe(1);
  expect(out[99]).toBeCloseTo(0.1, 14);
});

test('a stretch that leaves the clip, and an array of another kind, are refused', () => {
  expect(() => gainCurveInto(new Float64Array(2), LIST, 99)).toThrow(RangeError);
  expect(() => gainCurveInto(new Float64Array(2), LIST, -1)).toThrow(/startSample/);
  expect(() => gainCurveInto(new Float32Array(2) as never, LIST, 0)).toThrow(TypeError);
});

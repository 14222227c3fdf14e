import { expect, test } from 'vitest';
import { compressionGainAt } from '../../src/forecast/compression-curve.js';
import { DEFAULT_KEYED_COMPRESSOR, keyedSpread } from '../../src/forecast/keyed-spread.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { highPass } from '../../src/signal/biquad-design.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';
import { dB, ess, gap, RATE, takeOf, vowel } from './material.js';

const amplitudes = [0.05, 0.1, 0.2, 0.4, 0.8];
const { samples, list } = takeOf(
  amplitudes.flatMap((amplitude) => [vowel(0.5, 0.3), gap(), ess(amplitude), gap()]),
);
const levelled = editRegions(list, ({ id }) => ({ gainDb: dB(0.05 / amplitudes[id - 1]!) }));
const heard = magnitudeResponseDb(highPass({ sampleRateHz: RATE, frequencyHz: 5000 }), [5701], {
  sampleRateHz: RATE,
})[0]!;
const expected = amplitudes.map((a) => -compressionGainAt(dB(a) + heard, DEFAULT_KEYED_COMPRESSOR));

// Static curve (Giannoulis, Massberg and Reiss 2012) at the level behind the filter. Of 400 ms the attack of 1 ms leaves out
// 0.25 %, and the held reduction ripples by 0.15 %: together under 0.1 dB of at most 25.
test('a steady s gets the reduction of the curve at what the filtered detector hears', () => {
  const { byId, count } = keyedSpread(samples, list);
  expect(count).toBe(5);
  expected.forEach((reduction, i) => {
    expect(Math.abs(byId.get(i + 1)!.beforeDb - reduction)).toBeLessThan(0.1);
    expect(byId.get(i + 1)!.afterDb).toBeCloseTo(byId.get(i + 1)!.beforeDb, 9);
  });
});

// Percentiles at (n − 1)·p (Hyndman and Fan 1996, definition 7, from memory): of five values the 10th lies 0.4 of the way from the first.
test('esses brought to one level by hand leave no spread', () => {
  const { before, after } = keyedSpread(samples, levelled);
  const p10 = expected[0]! + 0.4 * (expected[1]! - expected[0]!);
  const p90 = expected[3]! + 0.6 * (expected[4]! - expected[3]!);
  expect(Math.abs(before!.spreadDb - (p90 - p10))).toBeLessThan(0.15);
  expect(Math.abs(before!.p50Db - expected[2]!)).toBeLessThan(0.1);
  expect(after!.spreadDb).toBeLessThan(0.05);
  expect(Math.abs(after!.p50Db - expected[0]!)).toBeLessThan(0.1);
});

test('only what the key hears counts: the vowels between are as good as not there', () => {
  const quiet = takeOf(amplitudes.flatMap((amplitude) => [vowel(0.001, 0.3), gap(), ess(amplitude), gap()]));
  const with_ = keyedSpread(samples, list).before!;
  const without = keyedSpread(quiet.samples, quiet.list).before!;
  // A 500 Hz vowel stands 40 dB lower behind the key (12 dB an octave): its reduction is 0.
  expect(Math.abs(with_.spreadDb - without.spreadDb)).toBeLessThan(0.02);
  const open = keyedSpread(samples, list, { ...DEFAULT_KEYED_COMPRESSOR, sidechain: [], releaseSeconds: 10 });
  expect(open.before!.p10Db).toBeGreaterThan(with_.p10Db + 3);
});

test('the key that is meant by default fits into the band of any sample rate', () => {
  // At 8 kHz its corner is 3.6 kHz, at 48 kHz the stated 5.
  for (const [sampleRateHz, frequencyHz] of [
    [8000, 3600],
    [48_000, 5000],
  ] as const) {
    const noise = whiteNoise(3, sampleRateHz, 0.3) as Samples;
    const clip = createRegionList({ sampleRateHz, lengthSamples: noise.length });
    const one = insertRegion(clip, { kind: 'sibilant', startSample: 800, endSample: 2400, gainDb: -6 });
    const stated = { ...DEFAULT_KEYED_COMPRESSOR, sidechain: [{ kind: 'highPass', frequencyHz }] } as const;
    expect(keyedSpread(noise, one)).toEqual(keyedSpread(noise, one, stated));
  }
});

test('no regions give null, and settings that cannot be are refused', () => {
  expect(keyedSpread(samples, list, DEFAULT_KEYED_COMPRESSOR, { kinds: ['breath'] })).toMatchObject({
    count: 0,
    before: null,
    after: null,
  });
  expect(() => keyedSpread(samples, list, { ...DEFAULT_KEYED_COMPRESSOR, ratio: 0 })).toThrow(
    'keyedSpread: ratio',
  );
});

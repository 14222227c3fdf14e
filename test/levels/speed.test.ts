import { expect, test } from 'vitest';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { costRatio } from '../lib/cost-ratio.js';
import { hiss, vowel } from './sounds.js';

test('a minute with 125 regions costs less than three times the transforms of its frames alone', () => {
  const rate = 48_000;
  const length = 60 * rate;
  const voice = vowel(rate, 1, 0.1);
  const noise = hiss(rate, 0.1, 0.05, { m1Hz: 6133, m2Hz2: 2.92e6 });
  const period = Math.floor(length / 125);
  const isNoise = (n: number) => n % period < noise.length;
  const samples = Float32Array.from(
    { length },
    (_, n) => (isNoise(n) ? noise[n % period] : voice[n % rate]) as number,
  );
  const list = insertRegions(
    createRegionList({ sampleRateHz: rate, lengthSamples: length }),
    Array.from({ length: 125 }, (_, i) => ({
      kind: 'sibilant' as const,
      startSample: i * period,
      endSample: i * period + noise.length,
    })),
  );
  const plan = createFftPlan(1024);
  const frame = new Float64Array(1024);
  const power = new Float64Array(plan.binCount);
  // The raw cost of any analysis: one transform of 1024 samples every 256, about 0.13 s on one core of 2020.
  const transforms = () => {
    for (let start = 0; start + 1024 <= length; start += 256) {
      frame.set(samples.subarray(start, start + 1024));
      plan.powerSpectrum(frame, power);
    }
  };
  // Four minutes with 500 regions in 1.5 s are 0.375 s for this one: three times as much.
  expect(costRatio(() => measureLevels(samples, list), transforms, 3)).toBeLessThan(3);
});

import { mean, std } from 'mathjs';
import meydaModule from 'meyda';
import { expect, test } from 'vitest';
import { level } from '../../src/features/level.js';
import { spectralCentroid } from '../../src/features/spectral-centroid.js';
import { spectralFlatness } from '../../src/features/spectral-flatness.js';
import { spectralMoments } from '../../src/features/spectral-moments.js';
import { spectralSpread } from '../../src/features/spectral-spread.js';
import { zeroCrossingRate } from '../../src/features/zero-crossing-rate.js';
import { whiteNoise } from '../lib/random.js';

type Spectral = 'spectralFlatness' | 'spectralCentroid' | 'spectralSpread' | 'spectralSkewness';

/**
 * The functions of meyda 5.6.3 by themselves. Its formulas take amplitudes where ours take powers, so it is handed powers. Its
 * kurtosis is not compared: the third term of its expansion of (x − m)⁴ has m where m² belongs (READ in its source).
 */
const { featureExtractors: meyda } = meydaModule as unknown as {
  featureExtractors: Readonly<
    Record<'rms' | 'zcr', (parts: { signal: Float32Array }) => number> &
      Record<Spectral, (parts: { ampSpectrum: Float64Array }) => number>
  >;
};

/** Powers of a spectrum with a hump, all above 0. */
const powers = Float64Array.from(
  whiteNoise(1, 257),
  (x, k) => x * x * Math.exp(-(((k - 90) / 60) ** 2)) + 1e-6,
);
const BIN_HZ = 31.25;

test('level and zero crossings are those of meyda', () => {
  for (const seed of [2, 3, 4]) {
    const signal = whiteNoise(seed, 1000);
    // Sums of 1000 squares in another order: 1000 roundings of 1e-16, times 20·log10 e.
    const theirs = 20 * Math.log10(meyda.rms({ signal }));
    expect(Math.abs(level(signal) - theirs)).toBeLessThan(1e-11);
    expect(Math.round((zeroCrossingRate(signal, 48000) * 999) / 48000)).toBe(meyda.zcr({ signal }));
  }
});

test('flatness, centroid, spread and skewness are those of meyda', () => {
  const theirs = (name: Spectral): number => meyda[name]({ ampSpectrum: powers });
  // Its moments about 0 are differences of numbers 10 to 100 times the result, each the sum of 257 roundings.
  const close = (ours: number, other: number): void => {
    expect(Math.abs(ours / other - 1)).toBeLessThan(1e-10);
  };
  const moments = spectralMoments(powers, BIN_HZ);
  close(spectralFlatness(powers, BIN_HZ), theirs('spectralFlatness'));
  close(spectralCentroid(powers, BIN_HZ), theirs('spectralCentroid') * BIN_HZ);
  close(spectralSpread(powers, BIN_HZ), theirs('spectralSpread') * BIN_HZ);
  close(moments.skewness, theirs('spectralSkewness'));
});

test('moments are the statistics of mathjs, of a sample with as many members as there is power', () => {
  const counts = Float64Array.from({ length: 65 }, (_, k) => (k * k * 7) % 23);
  const sample = [...counts].flatMap((count, k) => new Array<number>(count).fill(k * BIN_HZ));
  const [m, s] = [mean(sample), std(sample, 'uncorrected') as unknown as number];
  const standard = (order: number): number => mean(sample.map((x) => ((x - m) / s) ** order)) as number;
  const moments = spectralMoments(counts, BIN_HZ);
  // Sums of some 700 numbers: 700 roundings of 1e-16.
  expect(Math.abs(moments.centroidHz / m - 1)).toBeLessThan(1e-12);
  expect(Math.abs(moments.spreadHz / s - 1)).toBeLessThan(1e-12);
  expect(Math.abs(moments.skewness - standard(3))).toBeLessThan(1e-12);
  expect(Math.abs(moments.excessKurtosis - (standard(4) - 3))).toBeLessThan(1e-12);
});

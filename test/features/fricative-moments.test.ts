import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/features/analyse.js';
import { spectralCentroid } from '../../src/features/spectral-centroid.js';
import { spectralMoments } from '../../src/features/spectral-moments.js';
import { spectralSpread } from '../../src/features/spectral-spread.js';
import { shapedNoise } from '../lib/shaped-noise.js';

// Jongman, Wayland and Wong 2000, moments M1 and M2 of English fricatives (references.md B1: from notes on it, not seen in
// the paper itself): 22 kHz sampling, so 0 to 11,025 Hz.
const PUBLISHED = [
  ['f v', 5108, 6.37e6],
  ['th dh', 5137, 6.19e6],
  ['s z', 6133, 2.92e6],
  ['sh zh', 4229, 3.38e6],
] as const;

const SAMPLE_RATE_HZ = 22050;
const HALF_HZ = SAMPLE_RATE_HZ / 2;

/** The beta distribution over 0 to 11,025 Hz that has these first two moments, and its own third and fourth. */
function betaSpectrum(m1: number, m2: number) {
  const mean = m1 / HALF_HZ;
  const sum = (mean * (1 - mean)) / (m2 / HALF_HZ ** 2) - 1;
  const a = mean * sum;
  const b = (1 - mean) * sum;
  return {
    powerAt: (f: number) => (f / HALF_HZ) ** (a - 1) * (1 - f / HALF_HZ) ** (b - 1),
    skewness: (2 * (b - a) * Math.sqrt(sum + 1)) / ((sum + 2) * Math.sqrt(a * b)),
    excessKurtosis: (6 * ((a - b) ** 2 * (sum + 1) - a * b * (sum + 2))) / (a * b * (sum + 2) * (sum + 3)),
  };
}

describe('spectra made to the published moments of fricatives', () => {
  it.each(PUBLISHED)('of %s give centroid, spread, skewness and kurtosis back', (_, m1, m2) => {
    const { powerAt, skewness, excessKurtosis } = betaSpectrum(m1, m2);
    const bins = 4096;
    const binHz = HALF_HZ / bins;
    const power = Float64Array.from({ length: bins + 1 }, (_, k) => powerAt(k * binHz));
    // The sum over bins is the trapezium rule for the moments' integrals: error of the order of (1/bins)^1.5 of the
    // range for these exponents (least a − 1 is 0.6, at f v), 4e-6 of 11,025 Hz.
    expect(Math.abs(spectralCentroid(power, binHz) - m1)).toBeLessThan(0.1);
    expect(Math.abs(spectralSpread(power, binHz) - Math.sqrt(m2))).toBeLessThan(0.1);
    const moments = spectralMoments(power, binHz);
    expect(Math.abs(moments.skewness - skewness)).toBeLessThan(1e-4);
    expect(Math.abs(moments.excessKurtosis - excessKurtosis)).toBeLessThan(1e-3);
  });

  it.each(PUBLISHED)('as noise %s gives centroid and spread back through analyse', (_, m1, m2) => {
    const { powerAt } = betaSpectrum(m1, m2);
    const noise = shapedNoise(m1, 2 ** 18, SAMPLE_RATE_HZ, powerAt);
    const { columns } = analyse(noise, {
      sampleRateHz: SAMPLE_RATE_HZ,
      frameSeconds: 0.04,
      hopSeconds: 0.04,
      spectrumBand: { lowHz: 0, highHz: Number.POSITIVE_INFINITY },
      features: ['centroidHz', 'spreadHz'],
    });
    const inside = <T extends ArrayLike<number>>(column: T) => Array.from(column).slice(1, -1);
    const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
    const deviation = (values: readonly number[]) =>
      Math.sqrt(mean(values.map((v) => (v - mean(values)) ** 2)));
    // Frames are independent, so four standard errors of their mean; one frame's ratio of sums is biased by about
    // spread/B for B = 40 ms · 2·√π·spread independent values, less than 0.5 % of the spread.
    const centroids = inside(columns.centroidHz);
    const spreads = inside(columns.spreadHz);
    const bias = 0.005 * Math.sqrt(m2);
    const error = (values: readonly number[]) => (4 * deviation(values)) / Math.sqrt(values.length) + bias;
    expect(Math.abs(mean(centroids) - m1)).toBeLessThan(error(centroids));
    expect(Math.abs(mean(spreads) - Math.sqrt(m2))).toBeLessThan(error(spreads));
    // Else the tolerance itself could hide a wrong result: it stays below 2 % of the spread.
    expect(error(centroids) + error(spreads)).toBeLessThan(0.04 * Math.sqrt(m2));
  });
});

import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/features/analyse.js';
import { spectralFlatness } from '../../src/features/spectral-flatness.js';
import { zeroCrossingRate } from '../../src/features/zero-crossing-rate.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { whiteNoise } from '../lib/random.js';
import { shapedNoise } from '../lib/shaped-noise.js';

const EULER_GAMMA = 0.5772156649015329;
const mean = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((sum, v) => sum + v, 0) / values.length;

// references.md C3, computed from its figures: powers of white Gaussian noise are exponentially distributed, so ln SFM has mean
// −γ + 1/(2B) and standard deviation sqrt((π²/6 − 1)/B) for B independent bins. Tolerances below are four standard
// deviations of the mean over the frames.
describe('flatness of white Gaussian noise', () => {
  it('is e^−γ for single spectra under a rectangular window', () => {
    const frames = 400;
    const size = 1024;
    const plan = createFftPlan(size);
    const power = new Float64Array(plan.binCount);
    const noise = whiteNoise(1, frames * size);
    const logs: number[] = [];
    for (let f = 0; f < frames; f++) {
      plan.powerSpectrum(Float64Array.from(noise.subarray(f * size, (f + 1) * size)), power);
      // Bins 1 to 511: DC and half the rate have one degree of freedom.
      logs.push(Math.log(spectralFlatness(power, 1, { lowHz: 1, highHz: 512 })));
    }
    const bins = 511;
    const deviation = Math.sqrt((Math.PI ** 2 / 6 - 1) / bins);
    const error = mean(logs) - (-EULER_GAMMA + 1 / (2 * bins));
    expect(Math.abs(error)).toBeLessThan((4 * deviation) / Math.sqrt(frames));
    // The spread of single frames agrees too: the standard error of a standard deviation is 1/sqrt(2·frames).
    const spread = Math.sqrt(mean(logs.map((l) => (l - mean(logs)) ** 2)));
    expect(Math.abs(spread / deviation - 1)).toBeLessThan(4 / Math.sqrt(2 * frames));
  });

  it('is 0.565 ± 0.038 in the band 4–12 kHz of Hann frames of 1024 at 48 kHz', () => {
    // references.md C3, computed from its figures and simulated there, not with this code.
    const frames = 400;
    const table = analyse(whiteNoise(2, frames * 1024), {
      sampleRateHz: 48000,
      frameSeconds: 1024 / 48000,
      hopSeconds: 1024 / 48000,
      flatnessBand: { lowHz: 4000, highHz: 12000 },
      features: ['flatness'],
    });
    // Frame 0 is half outside.
    const flatness = table.columns.flatness.subarray(1);
    // Half a unit of the last digit that references.md gives, and four standard errors.
    expect(Math.abs(mean(flatness) - 0.565)).toBeLessThan(0.0005 + (4 * 0.038) / Math.sqrt(frames - 1));
  });

  it('rises to exp(ψ(K))/K where the powers of K channels are averaged', () => {
    // references.md C3, computed from its figures: K = 4 gives 0.877940. Averaging the signals would leave 0.5615.
    const channels = [3, 4, 5, 6].map((seed) => whiteNoise(seed, 200 * 1024));
    const table = analyse(channels, {
      sampleRateHz: 48000,
      frameSeconds: 1024 / 48000,
      hopSeconds: 1024 / 48000,
      flatnessBand: { lowHz: 100, highHz: 23900 },
      features: ['flatness'],
    });
    const flatness = table.columns.flatness.subarray(1);
    // ln of a mean of 4 exponentials has variance ψ'(4) = 0.2838; less 1/4 for the arithmetic mean: 0.034 per bin.
    // A Hann window leaves 1 independent bin in 1.5·1.28 or more (its powers correlate by 4/9 and 1/36): 2 taken.
    const deviation = Math.sqrt(0.034 / (508 / 2)) / Math.sqrt(199);
    expect(Math.abs(mean(flatness) - 0.87794)).toBeLessThan(4 * deviation + 1 / 508);
  });
});

// references.md C3, computed from its figures (formula from memory there): Rice 2·sqrt(∫f²S/∫S) for continuous time, and exactly
// fs·acos(ρ1)/π for sampled Gaussian noise. Tolerance: the counts of band noise vary less than those of a Poisson
// process, whose standard deviation is the root of the count; four of those for 350,000 crossings are 0.7 %.
describe('zero-crossing rate of Gaussian noise', () => {
  const length = 2 ** 20;
  const band = (low: number, high: number) => (f: number) => (f >= low && f < high ? 1 : 0);

  it.each([
    [4000, 12000, 48000, 16394.7],
    [5000, 10000, 48000, 15180.5],
    [5000, 10000, 44100, 15161.5],
  ])('of %i to %i Hz sampled at %i Hz is the exact sampled form', (low, high, sampleRateHz, expected) => {
    const noise = shapedNoise(low, length, sampleRateHz, band(low, high));
    const tolerance = 4 / Math.sqrt((expected * length) / sampleRateHz);
    expect(Math.abs(zeroCrossingRate(noise, sampleRateHz) / expected - 1)).toBeLessThan(tolerance);
  });

  it.each([
    [4000, 12000, 16653],
    [2000, 8000, 10583],
    [6000, 10000, 16166],
  ])('of %i to %i Hz comes to the value of Rice at a high sample rate', (low, high, rice) => {
    const noise = shapedNoise(high, length, 192000, band(low, high));
    // Sampling at 192 kHz leaves 0.1 % (Rice − exact form), besides four standard deviations.
    const tolerance = 0.001 + 4 / Math.sqrt((rice * length) / 192000);
    expect(Math.abs(zeroCrossingRate(noise, 192000) / rice - 1)).toBeLessThan(tolerance);
  });

  it('of the full band is half the sample rate', () => {
    const rate = zeroCrossingRate(whiteNoise(7, length), 48000);
    // Independent signs: a binomial count with p = 1/2.
    expect(Math.abs(rate / 24000 - 1)).toBeLessThan(4 / Math.sqrt(length));
  });
});

import { createFftPlan } from '../../src/signal/fft-plan.js';
import { gaussian, mulberry32 } from './random.js';

/**
 * Gaussian noise, periodic in its length (a power of two), whose power density follows `powerAt(frequencyHz)`.
 * Its expected RMS is `rms`.
 */
export function shapedNoise(
  seed: number,
  length: number,
  sampleRateHz: number,
  powerAt: (frequencyHz: number) => number,
  rms = 0.1,
): Float32Array<ArrayBuffer> {
  const normal = gaussian(mulberry32(seed));
  const spectrum = new Float64Array(length + 2);
  let total = 0;
  for (let k = 1; k < length / 2; k++) {
    const power = powerAt((k * sampleRateHz) / length);
    total += power;
    spectrum[2 * k] = Math.sqrt(power) * normal();
    spectrum[2 * k + 1] = Math.sqrt(power) * normal();
  }
  const samples = new Float64Array(length);
  createFftPlan(length).inverseReal(spectrum, samples);
  // E x² = 4·Σ power / length², from Parseval with two normal deviates in each of two mirrored bins.
  const scale = (rms * length) / Math.sqrt(4 * total);
  return Float32Array.from(samples, (x) => x * scale);
}

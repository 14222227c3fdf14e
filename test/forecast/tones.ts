import { createFftPlan } from '../../src/signal/fft-plan.js';
import type { Samples } from '../../src/signal/samples.js';

/** Length of a measured window: tones on its bins are measured without leakage. */
export const WINDOW = 32768;

/** Frequency of a bin of the window. */
export function binHz(bin: number, sampleRateHz: number): number {
  return (bin * sampleRateHz) / WINDOW;
}

/** Sum of sines on whole bins, `windows` windows long, each of the given amplitude. */
export function tones(bins: readonly number[], amplitude: number, windows = 2): Samples {
  return Float32Array.from({ length: windows * WINDOW }, (_, i) => {
    let sum = 0;
    // The product is taken modulo the window, so that the angle stays small and exact.
    for (const bin of bins) sum += Math.sin((2 * Math.PI * ((bin * i) % WINDOW)) / WINDOW);
    return amplitude * sum;
  });
}

/** Amplitude of every bin over one window that begins at `start`. */
export function binAmplitudes(samples: Samples, start: number): Float64Array {
  const plan = createFftPlan(WINDOW);
  const spectrum = new Float64Array(WINDOW + 2);
  plan.forwardReal(Float64Array.from(samples.subarray(start, start + WINDOW)), spectrum);
  return Float64Array.from({ length: WINDOW / 2 }, (_, k) => {
    const magnitude = Math.hypot(spectrum[2 * k]!, spectrum[2 * k + 1]!);
    return (k === 0 ? 1 : 2) * (magnitude / WINDOW);
  });
}

export function decibels(amplitude: number): number {
  return 20 * Math.log10(amplitude);
}

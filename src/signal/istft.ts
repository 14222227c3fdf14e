import { checkDoubles, checkObject, rangeError } from './check.js';
import { createFftPlan } from './fft-plan.js';
import { frameStartSample } from './frame-grid.js';
import type { NewSamples } from './samples.js';
import type { SpectraTable } from './stft.js';

/**
 * Least Σw² at a sample, as a part of the window's greatest w². There the window is 1e-8 of its peak, and the
 * rounding of doubles (1e-16) grows to about 1e-8, still below the step of a 32-bit sample.
 */
const LEAST_COVERAGE = 1e-16;

/**
 * Inverse of {@link stft}: x[n] = Σ w·y / Σ w² over the frames that hold sample n, where y is a frame's inverse
 * transform. Unchanged spectra give the clip back to the rounding of 32-bit samples; changed ones give the clip whose
 * frames come nearest to them in the sum of squares.
 *
 * That needs Σ w² > 0 at every sample. A hop of half a frame or less does it for every window here. With half a
 * frame the last samples hang on the thin end of one window, which magnifies changes to the spectra: where spectra are
 * to be changed, take a quarter of a frame.
 *
 * @param table From {@link stft}; its values may have been changed.
 * @returns A new clip of `table.lengthSamples` samples; no frames give an empty clip. Values are not limited to ±1.
 * @throws RangeError where some sample is covered by no frame or only by a window's zero (it names the first one), or
 * where the arrays do not fit the grid; TypeError for wrong kinds of array.
 * @see Griffin and Lim, "Signal Estimation from Modified Short-Time Fourier Transform", 1984.
 * @example
 * import { istft, stft } from 'lenition/signal';
 * const options = { sampleRateHz: 8000, frameSeconds: 0.002, hopSeconds: 0.0005, window: 'hann' } as const;
 * const table = stft(Float32Array.of(0.5, -0.25, 1), options);
 * Array.from(istft(table), (x) => Math.round(x * 1e6) / 1e6); // => [0.5, -0.25, 1]
 */
export function istft(table: SpectraTable): NewSamples {
  checkTable(table);
  const { grid, lengthSamples, window, binCount, values } = table;
  const plan = createFftPlan(grid.fftSize);
  const frame = new Float64Array(grid.fftSize);
  const sum = new Float64Array(lengthSamples);
  const coverage = new Float64Array(lengthSamples);
  const stride = 2 * binCount;
  for (let k = 0; k < grid.frameCount; k++) {
    plan.inverseReal(values.subarray(k * stride, (k + 1) * stride), frame);
    const start = frameStartSample(grid, k);
    const to = Math.min(window.length, lengthSamples - start);
    for (let i = Math.max(0, -start); i < to; i++) {
      const w = window[i] as number;
      const n = start + i;
      sum[n] = (sum[n] as number) + w * (frame[i] as number);
      coverage[n] = (coverage[n] as number) + w * w;
    }
  }
  const least = LEAST_COVERAGE * window.reduce((most, w) => Math.max(most, w * w), 0);
  const out = new Float32Array(lengthSamples);
  for (let n = 0; n < lengthSamples; n++) {
    const covered = coverage[n] as number;
    if (!(covered > least))
      throw rangeError('istft', `sum of squared windows at sample ${n}`, `must be above ${least}`, covered);
    out[n] = (sum[n] as number) / covered;
  }
  return out;
}

function checkTable(table: SpectraTable): void {
  checkObject('istft', 'table', table);
  const { grid, window, binCount, values } = table;
  checkObject('istft', 'table.grid', grid);
  checkDoubles('istft', 'table.window', window, grid.frameSamples);
  checkDoubles('istft', 'table.values', values, 2 * grid.frameCount * binCount);
  if (binCount !== grid.fftSize / 2 + 1)
    throw rangeError('istft', 'table.binCount', `must be ${grid.fftSize / 2 + 1}`, binCount);
}

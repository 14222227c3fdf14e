import { checkChoice, checkFinite, typeError } from './check.js';
import { createFftPlan } from './fft-plan.js';
import { type FrameGrid, type FrameGridOptions, frameGridFor, frameStartSample } from './frame-grid.js';
import type { Doubles, Samples } from './samples.js';
import { windowedFrameInto } from './windowed-frame.js';
import { createWindow, WINDOW_NAMES, type WindowName } from './windows.js';

/** How {@link stft} cuts and weights frames. */
export interface StftOptions extends FrameGridOptions {
  /** Window, taken in its periodic form. */
  readonly window: WindowName;
}

/** Spectra of all frames of one clip, with what is needed to read them and to go back. */
export interface SpectraTable {
  /** Where the frames lie. */
  readonly grid: FrameGrid;
  /** Length of the clip in samples. */
  readonly lengthSamples: number;
  /** Window values that the frames were multiplied with, grid.frameSamples of them. */
  readonly window: Doubles;
  /** Bins per frame, fftSize/2 + 1; bin b stands at b·sampleRateHz/fftSize. */
  readonly binCount: number;
  /** re, im of bin b of frame k at 2·(k·binCount + b) and the place after it. */
  readonly values: Doubles;
}

/**
 * Short-time Fourier transform: the spectrum of every windowed frame of the grid that `createFrameGrid` lays. Values
 * are unscaled (Σ w·x·e^(−2πikn/N), n from the start of the frame), so phases refer to the frame's first sample.
 *
 * @param samples The clip, one channel. Empty gives no frames; shorter than a frame gives at least one.
 * @param options Rate, frame, hop and window.
 * @returns A table that carries its grid and window. It takes 8·(fftSize + 2) bytes per frame.
 * @throws TypeError or RangeError for wrong options, or NaN or Infinity in samples (with the index).
 * @see Allen and Rabiner, "A Unified Approach to Short-Time Fourier Analysis and Synthesis", 1977.
 * @example
 * import { stft } from 'lenition/signal';
 * const options = { sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.005, window: 'hann' } as const;
 * const table = stft(new Float32Array(48000), options);
 * table.grid.frameCount; // => 200
 * table.values.length; // => 205200
 */
export function stft(samples: Samples, options: StftOptions): SpectraTable {
  if (!(samples instanceof Float32Array))
    throw typeError('stft', 'samples', 'must be a Float32Array', samples);
  checkFinite('stft', 'samples', samples);
  const grid = frameGridFor('stft', options, samples.length);
  checkChoice('stft', 'window', options.window, WINDOW_NAMES);
  const window = createWindow(options.window, grid.frameSamples, 'periodic');
  const plan = createFftPlan(grid.fftSize);
  const frame = new Float64Array(grid.fftSize);
  const stride = 2 * plan.binCount;
  const values = new Float64Array(grid.frameCount * stride);
  for (let k = 0; k < grid.frameCount; k++) {
    windowedFrameInto(frame, samples, frameStartSample(grid, k), window);
    plan.forwardReal(frame, values.subarray(k * stride, (k + 1) * stride));
  }
  return Object.freeze({ grid, lengthSamples: samples.length, window, binCount: plan.binCount, values });
}

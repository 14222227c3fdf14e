import { binFromEdge, type FrequencyBand } from '../features/frequency-band.js';
import { peakOfBins } from '../features/spectral-peak.js';
import { createFftPlan } from '../signal/fft-plan.js';
import { createFrameGrid } from '../signal/frame-grid.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createWindow } from '../signal/windows.js';

/** Length of a frame: short enough for a burst, and bins of about 100 Hz are finer than any shape of a noise. */
const FRAME_SECONDS = 0.01;
/** Half width of the smoothing before the peak is read: a resonance of the noise stays, the chance of its bins does not. */
const SMOOTHING_HZ = 500;

/** Averaged power spectra of stretches of one clip. */
export interface SpectrumMeter {
  readonly binHz: number;
  readonly binCount: number;
  /** Spectrum of [start, end), as many bins as stated, on a scale of its own; overwritten by the next call. */
  measure(start: number, end: number): Doubles;
}

/**
 * Power spectrum averaged over frames of 10 ms under a Hann window, half overlapped, over all channels (P. Welch, "The
 * use of fast Fourier transform for the estimation of power spectra", 1967). The mean of the stretch is taken off. The
 * last frame ends where the stretch does; a stretch shorter than a frame is one frame of its own length.
 */
export function createSpectrumMeter(channels: readonly Samples[], sampleRateHz: number): SpectrumMeter {
  // The grid's rules for frame and transform lengths; its frames are not used.
  const { frameSamples, fftSize } = createFrameGrid(
    { sampleRateHz, frameSeconds: FRAME_SECONDS, hopSeconds: FRAME_SECONDS },
    0,
  );
  const plan = createFftPlan(fftSize);
  const fullWindow = createWindow('hann', frameSamples, 'periodic');
  const frame = new Float64Array(fftSize);
  const power = new Float64Array(plan.binCount);
  const own = new Float64Array(plan.binCount);
  const spectrum = new Float64Array(plan.binCount);

  return { binHz: sampleRateHz / fftSize, binCount: plan.binCount, measure };

  function measure(start: number, end: number): Doubles {
    spectrum.fill(0);
    const length = Math.min(frameSamples, end - start);
    const window = length === frameSamples ? fullWindow : createWindow('hann', length, 'periodic');
    const steps = Math.ceil((end - start - length) / (frameSamples / 2));
    for (const channel of channels) {
      const mean = meanOf(channel, start, end);
      own.fill(0);
      for (let s = 0; s <= steps; s++) {
        const from = Math.min(start + s * (frameSamples / 2), end - length);
        for (let i = 0; i < length; i++)
          frame[i] = (window[i] as number) * ((channel[from + i] as number) - mean);
        frame.fill(0, length);
        plan.powerSpectrum(frame, power);
        addTo(own, power);
      }
      // Summed by channel, so that the order of two does not show in the last digit.
      addTo(spectrum, own);
    }
    return spectrum;
  }
}

function addTo(sums: Doubles, power: Doubles): void {
  for (let k = 0; k < sums.length; k++) sums[k] = (sums[k] as number) + (power[k] as number);
}

/** Mean of samples start to end − 1. */
export function meanOf(samples: Samples, start: number, end: number): number {
  let sum = 0;
  for (let i = start; i < end; i++) sum += samples[i] as number;
  return sum / (end - start);
}

/** Frequency in Hz at which a spectrum, smoothed by a triangle of 500 Hz to each side, is strongest inside a band. */
export function smoothedPeakHz(power: Doubles, binHz: number, band: FrequencyBand): number {
  const reach = Math.floor(SMOOTHING_HZ / binHz);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  const end = binFromEdge(band.highHz, binHz, power.length);
  const smooth = new Float64Array(power.length);
  for (let k = first; k < end; k++) {
    let sum = 0;
    let weights = 0;
    // Bins outside the band are left out, or a loud hum below it would pull the peak to its edge.
    for (let j = Math.max(first, k - reach); j <= Math.min(end - 1, k + reach); j++) {
      const weight = reach + 1 - Math.abs(j - k);
      weights += weight;
      sum += weight * (power[j] as number);
    }
    smooth[k] = sum / weights;
  }
  return peakOfBins(smooth, first, end) * binHz;
}

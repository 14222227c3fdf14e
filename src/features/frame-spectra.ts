import type { Engine } from '../signal/engine.js';
import { createFftPlan, type FftPlan } from '../signal/fft-plan.js';
import type { FrameGrid } from '../signal/frame-grid.js';
import { createPairMeter } from '../signal/pair-meter.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createWindow } from '../signal/windows.js';

/** Frames whose windowed energies differ by more than this are transformed apart (amplitudes 100 dB apart). */
const PAIRING_RATIO = 1e-10;

/** Power spectra of frames, two at a time, averaged over channels. */
export interface FrameSpectra {
  /** Spectrum of the pair's first frame: the bins that were asked for, mean square of the signal per bin (full scale = 1). */
  readonly first: Doubles;
  /** Spectrum of the pair's second frame, on the same scale. */
  readonly second: Doubles;
  /**
   * Fills `first` and `second` with the frames that start at these indices of the channels; 0 outside them. What an array holds must
   * not change while it is handed in again and again.
   */
  measure(channels: readonly Samples[], firstStart: number, secondStart: number): void;
}

/**
 * Makes plan, window and scratch memory for the frames of a grid.
 *
 * The window is a periodic Hann of the frame's length. The spectrum is one-sided and scaled by 1/(N·Σw²), so that its
 * bins sum to the mean square of the signal (Parseval); bins 0 and N/2, which have no mirror image, are not doubled.
 *
 * @param binCount how many bins are wanted, from 0 on: those that nobody reads cost nothing; at most fftSize/2 + 1
 */
export function createFrameSpectra(grid: FrameGrid, binCount: number, engine?: Engine | null): FrameSpectra {
  const { fftSize, frameSamples } = grid;
  const window = scaledWindow(grid);
  const pairs = (engine?.createPairMeter ?? createPairMeter)(window, fftSize, binCount);
  // Averages over channels; one channel's powers stay where the meter left them.
  const firstMean = new Float64Array(binCount);
  const secondMean = new Float64Array(binCount);
  let first: Doubles = firstMean;
  let second: Doubles = secondMean;
  const sums = new Float64Array(2);
  // Two frames that reach over an end of the clip, one after the other.
  const edge = new Float32Array(2 * frameSamples) as Samples;
  let begun: Samples | undefined;
  // For frames that are transformed apart: rare, so made when first needed.
  let apart: { readonly plan: FftPlan; readonly frame: Doubles; readonly power: Doubles } | undefined;

  return {
    get first() {
      return first;
    },
    get second() {
      return second;
    },
    measure,
  };

  function measure(channels: readonly Samples[], firstStart: number, secondStart: number): void {
    const scale = 1 / channels.length;
    for (let c = 0; c < channels.length; c++) {
      const channel = channels[c] as Samples;
      const lies =
        firstStart >= 0 && secondStart >= firstStart && secondStart + frameSamples <= channel.length;
      const samples = lies ? channel : edge;
      const from = lies ? firstStart : 0;
      const to = lies ? secondStart : frameSamples;
      if (!lies) {
        copyFrame(edge, 0, channel, firstStart, frameSamples);
        copyFrame(edge, frameSamples, channel, secondStart, frameSamples);
      }
      if (samples !== begun || !lies) pairs.begin(samples);
      begun = samples;
      pairs.measure(from, to);
      const powerA = pairs.first;
      const powerB = pairs.second;
      sumBoth(powerA, powerB, sums);
      const a = sums[0] as number;
      const b = sums[1] as number;
      // Frames at 0 have no power but the rounding of their partner's.
      const together = a >= b * PAIRING_RATIO && b >= a * PAIRING_RATIO;
      const stays = together && channels.length === 1;
      first = stays ? powerA : firstMean;
      second = stays ? powerB : secondMean;
      if (stays) break;
      put(together ? powerA : powerApart(samples, from), scale, firstMean, c > 0);
      put(together ? powerB : powerApart(samples, to), scale, secondMean, c > 0);
    }
    halveEnds(first, fftSize / 2);
    halveEnds(second, fftSize / 2);
  }

  /** A frame near silence would carry the rounding of its loud partner. */
  function powerApart(samples: Samples, start: number): Doubles {
    apart ??= {
      plan: createFftPlan(fftSize),
      frame: new Float64Array(fftSize),
      power: new Float64Array(fftSize / 2 + 1),
    };
    const { plan, frame, power } = apart;
    for (let i = 0; i < frameSamples; i++) frame[i] = (window[i] as number) * (samples[start + i] as number);
    plan.powerSpectrum(frame, power);
    return power;
  }
}

/** The window with the scale of a one-sided spectrum in it: its square holds 2/(N·Σw²). */
function scaledWindow(grid: FrameGrid): Doubles {
  const window = createWindow('hann', grid.frameSamples, 'periodic');
  let squares = 0;
  for (const w of window) squares += w * w;
  const scale = Math.sqrt(2 / (grid.fftSize * squares));
  return window.map((w) => w * scale);
}

/** Copies the frame that starts at `start`, with zeros outside the channel, to place `at`. */
function copyFrame(out: Samples, at: number, channel: Samples, start: number, length: number): void {
  for (let i = 0; i < length; i++) out[at + i] = channel[start + i] ?? 0;
}

/**
 * Powers of two spectra but for the doubling of their ends: enough to tell whether one is far below the other. Four sums at a time,
 * since each waits for itself.
 */
function sumBoth(first: Doubles, second: Doubles, sums: Doubles): void {
  let evenA = 0;
  let oddA = 0;
  let evenB = 0;
  let oddB = 0;
  const end = first.length - (first.length % 2);
  for (let k = 0; k < end; k += 2) {
    evenA += first[k] as number;
    oddA += first[k + 1] as number;
    evenB += second[k] as number;
    oddB += second[k + 1] as number;
  }
  sums[0] = evenA + oddA + (first[end] ?? 0);
  sums[1] = evenB + oddB + (second[end] ?? 0);
}

function put(power: Doubles, scale: number, sum: Doubles, adds: boolean): void {
  if (adds) for (let k = 0; k < sum.length; k++) sum[k] = (sum[k] as number) + scale * (power[k] as number);
  else for (let k = 0; k < sum.length; k++) sum[k] = scale * (power[k] as number);
}

/**
 * DC and half the sample rate, bin `nyquistBin`, have no mirror image, so they count once in a one-sided spectrum where all others count
 * twice.
 */
function halveEnds(power: Doubles, nyquistBin: number): void {
  power[0] = (power[0] as number) * 0.5;
  if (power.length > nyquistBin) power[nyquistBin] = (power[nyquistBin] as number) * 0.5;
}

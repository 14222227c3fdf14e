import { createFftPlan } from '../signal/fft-plan.js';
import type { FrameGrid } from '../signal/frame-grid.js';
import { pairPowersInto } from '../signal/pair-powers.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createWindow } from '../signal/windows.js';

/** Frames whose windowed energies differ by more than this are transformed apart (amplitudes 100 dB apart). */
const PAIRING_RATIO = 1e-10;

/** Power spectra of frames, two at a time, averaged over channels. */
export interface FrameSpectra {
  /** Spectrum of the pair's first frame: bins 0 to fftSize/2, mean square of the signal per bin (full scale = 1). */
  readonly first: Doubles;
  /** Spectrum of the pair's second frame, on the same scale. */
  readonly second: Doubles;
  /** Fills `first` and `second` with the frames that start at these indices of the channels; 0 outside them. */
  measure(channels: readonly Samples[], firstStart: number, secondStart: number): void;
}

/**
 * Makes plan, window and scratch memory for the frames of a grid.
 *
 * The window is a periodic Hann of the frame's length. The spectrum is one-sided and scaled by 1/(N·Σw²), so that its
 * bins sum to the mean square of the signal (Parseval); bins 0 and N/2, which have no mirror image, are not doubled.
 */
export function createFrameSpectra(grid: FrameGrid): FrameSpectra {
  const plan = createFftPlan(grid.fftSize);
  const window = scaledWindow(grid);
  // The two frames as the real and imaginary parts of one, and the spectrum of that.
  const pair = new Float64Array(2 * grid.fftSize);
  const spectrum = new Float64Array(2 * grid.fftSize);
  const energies = new Float64Array(2);
  // For frames that are transformed apart.
  const apart = new Float64Array(grid.fftSize);
  // For channels after the first.
  const firstMore = new Float64Array(plan.binCount);
  const secondMore = new Float64Array(plan.binCount);
  const first = new Float64Array(plan.binCount);
  const second = new Float64Array(plan.binCount);

  return {
    first,
    second,
    measure(channels: readonly Samples[], firstStart: number, secondStart: number): void {
      const scale = 1 / channels.length;
      let isFirst = true;
      for (const channel of channels) {
        loadPair(channel, firstStart, secondStart);
        const a = energies[0] as number;
        const b = energies[1] as number;
        if (a === 0 && b === 0) continue;
        if (a >= b * PAIRING_RATIO && b >= a * PAIRING_RATIO) {
          plan.forwardComplex(pair, spectrum);
          if (isFirst) pairPowersInto(spectrum, first, second, scale);
          else {
            pairPowersInto(spectrum, firstMore, secondMore, scale);
            add(firstMore, first);
            add(secondMore, second);
          }
        } else {
          if (isFirst) clear();
          // A frame near silence would carry the rounding of its loud partner.
          for (const [side, sum] of [first, second].entries()) {
            for (let n = 0; n < grid.fftSize; n++) apart[n] = pair[2 * n + side] as number;
            plan.powerSpectrum(apart, firstMore);
            for (let k = 0; k < firstMore.length; k++) firstMore[k] = (firstMore[k] as number) * scale;
            add(firstMore, sum);
          }
        }
        isFirst = false;
      }
      if (isFirst) clear();
      halveEnds(first);
      halveEnds(second);
    },
  };

  function clear(): void {
    first.fill(0);
    second.fill(0);
  }

  /** Windows two frames into the pair and leaves their energies. */
  function loadPair(channel: Samples, firstStart: number, secondStart: number): void {
    const length = window.length;
    if (firstStart < 0 || secondStart < firstStart || secondStart + length > channel.length) {
      energies[0] = loadFrame(channel, firstStart, window, pair, 0);
      energies[1] = loadFrame(channel, secondStart, window, pair, 1);
      return;
    }
    let a = 0;
    let b = 0;
    for (let n = 0, i = firstStart, j = secondStart; n < length; n++, i++, j++) {
      const w = window[n] as number;
      const x = (channel[i] as number) * w;
      const y = (channel[j] as number) * w;
      pair[2 * n] = x;
      pair[2 * n + 1] = y;
      a += x * x;
      b += y * y;
    }
    energies[0] = a;
    energies[1] = b;
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

/** Writes the windowed frame that starts at `start` into one side of the pair; returns its energy. */
function loadFrame(channel: Samples, start: number, window: Doubles, pair: Doubles, side: number): number {
  const length = window.length;
  const from = Math.min(length, Math.max(0, -start));
  const to = Math.max(from, Math.min(length, channel.length - start));
  for (let n = 0; n < from; n++) pair[2 * n + side] = 0;
  for (let n = to; n < length; n++) pair[2 * n + side] = 0;
  let energy = 0;
  for (let n = from, i = start + from; n < to; n++, i++) {
    const x = (channel[i] as number) * (window[n] as number);
    pair[2 * n + side] = x;
    energy += x * x;
  }
  return energy;
}

function add(power: Doubles, sum: Doubles): void {
  for (let k = 0; k < power.length; k++) sum[k] = (sum[k] as number) + (power[k] as number);
}

/** DC and half the sample rate have no mirror image, so they count once in a one-sided spectrum where all others count twice. */
function halveEnds(power: Doubles): void {
  const last = power.length - 1;
  power[0] = (power[0] as number) * 0.5;
  power[last] = (power[last] as number) * 0.5;
}

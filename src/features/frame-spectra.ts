import { createFftPlan } from '../signal/fft-plan.js';
import type { FrameGrid } from '../signal/frame-grid.js';
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
  const frames = [new Float64Array(grid.fftSize), new Float64Array(grid.fftSize)] as const;
  const powers = [new Float64Array(plan.binCount), new Float64Array(plan.binCount)] as const;
  const first = new Float64Array(plan.binCount);
  const second = new Float64Array(plan.binCount);

  return {
    first,
    second,
    measure(channels: readonly Samples[], firstStart: number, secondStart: number): void {
      first.fill(0);
      second.fill(0);
      for (const channel of channels) {
        const a = loadFrame(channel, firstStart, window, frames[0]);
        const b = loadFrame(channel, secondStart, window, frames[1]);
        if (a === 0 && b === 0) continue;
        if (a >= b * PAIRING_RATIO && b >= a * PAIRING_RATIO) {
          plan.powerSpectraOfPair(frames[0], frames[1], powers[0], powers[1]);
        } else {
          // A frame near silence would carry the rounding of its loud partner.
          plan.powerSpectrum(frames[0], powers[0]);
          plan.powerSpectrum(frames[1], powers[1]);
        }
        addScaled(powers[0], 1 / channels.length, first);
        addScaled(powers[1], 1 / channels.length, second);
      }
    },
  };
}

/** The window with the scale of a one-sided spectrum in it: its square holds 2/(N·Σw²). */
function scaledWindow(grid: FrameGrid): Doubles {
  const window = createWindow('hann', grid.frameSamples, 'periodic');
  let squares = 0;
  for (const w of window) squares += w * w;
  const scale = Math.sqrt(2 / (grid.fftSize * squares));
  return window.map((w) => w * scale);
}

/** Writes the windowed frame that starts at `start` to the front of `frame`; returns its energy. */
function loadFrame(channel: Samples, start: number, window: Doubles, frame: Doubles): number {
  const length = window.length;
  const from = Math.min(length, Math.max(0, -start));
  const to = Math.max(from, Math.min(length, channel.length - start));
  frame.fill(0, 0, from);
  frame.fill(0, to, length);
  let energy = 0;
  for (let n = from, i = start + from; n < to; n++, i++) {
    const x = (channel[i] as number) * (window[n] as number);
    frame[n] = x;
    energy += x * x;
  }
  return energy;
}

function addScaled(power: Doubles, scale: number, sum: Doubles): void {
  const last = power.length - 1;
  sum[0] = (sum[0] as number) + (power[0] as number) * scale * 0.5;
  for (let k = 1; k < last; k++) sum[k] = (sum[k] as number) + (power[k] as number) * scale;
  sum[last] = (sum[last] as number) + (power[last] as number) * scale * 0.5;
}

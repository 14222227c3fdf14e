import type { Region, RegionList } from '../regions/region.js';
import { createFftPlan } from '../signal/fft-plan.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createWindow } from '../signal/windows.js';
import { noiseSpan } from './noise-span.js';

/** Length of a frame: two periods of the lowest thump that matters, and no longer than most consonants. */
const FRAME_SECONDS = 0.04;
/** How far the sound beside a region is listened to, on each side. */
const BESIDE_SECONDS = 0.4;

/** Powers up to four times, or 6 dB above, the sound beside a region may be the same voice a little louder. */
const MARGIN = 4;

/** Power by frequency, with the distance of its bins. */
export interface Excess {
  readonly excess: Doubles;
  readonly binHz: number;
}

/** Called with each stretch of a channel before it is read. */
export type CheckStretch = (channel: Samples, index: number, start: number, end: number) => void;

/** What a region has more than the sound beside it, at each frequency from `leastHz` on; 0 below. See suggestBand. */
export function bandExcess(
  channels: readonly Samples[],
  list: RegionList,
  region: Region,
  leastHz: number,
  check: CheckStretch,
): Excess {
  const { sampleRateHz, lengthSamples } = list;
  const { start, end } = noiseSpan(region);
  const fullFrame = Math.round(FRAME_SECONDS * sampleRateHz);
  const frameSamples = Math.min(fullFrame, end - start);
  const beside = Math.round(BESIDE_SECONDS * sampleRateHz);
  const from = Math.max(0, start - beside);
  const to = Math.min(lengthSamples, end + beside);
  channels.forEach((channel, c) => {
    check(channel, c, from, to);
  });
  let fftSize = 2;
  while (fftSize < 2 * fullFrame) fftSize *= 2;
  const meter = densityMeter(channels, fftSize);
  const binHz = sampleRateHz / fftSize;
  const own = meter(framesIn(start, end, frameSamples), frameSamples);
  own.fill(0, 0, Math.ceil(leastHz / binHz));
  const others = list.regions
    .filter((other) => other.id !== region.id && other.kind !== 'custom')
    .map(noiseSpan);
  const isFree = (at: number): boolean =>
    others.every((other) => other.end <= at || other.start >= at + fullFrame);
  const around = [...framesIn(from, start, fullFrame), ...framesIn(end, to, fullFrame)].filter(
    (at) => isFree(at) && at >= from && at + fullFrame <= (at < start ? start : to),
  );
  const surrounding = meter(around, fullFrame);
  const excess = own.map((power, k) => Math.max(0, power - MARGIN * (surrounding[k] as number)));
  return { excess: excess.some((power) => power > 0) ? excess : own, binHz };
}

/** Starts of frames half overlapped, the last ending where the stretch does; one frame for a shorter stretch. */
function framesIn(start: number, end: number, frameSamples: number): number[] {
  const hop = Math.max(1, Math.floor(frameSamples / 2));
  const starts: number[] = [];
  for (let at = start; at + frameSamples < end; at += hop) starts.push(at);
  starts.push(end - frameSamples);
  return starts;
}

/** Measures mean power densities: |X|² over Σw², averaged over frames and added over channels; 0 for no frame. */
function densityMeter(
  channels: readonly Samples[],
  fftSize: number,
): (starts: readonly number[], frameSamples: number) => Doubles {
  const plan = createFftPlan(fftSize);
  const frame = new Float64Array(fftSize);
  const power = new Float64Array(plan.binCount);
  return (starts, frameSamples) => {
    // Symmetric and two longer, so that no sample of a very short stretch is weighted by 0.
    const window = createWindow('hann', frameSamples + 2, 'symmetric').subarray(1, -1);
    let squares = 0;
    for (const w of window) squares += w * w;
    const density = new Float64Array(plan.binCount);
    for (const channel of channels)
      for (const start of starts) {
        loadFrame(frame, channel, start, window);
        plan.powerSpectrum(frame, power);
        for (let k = 0; k < density.length; k++)
          density[k] = (density[k] as number) + (power[k] as number) / (squares * starts.length);
      }
    return density;
  };
}

/** A windowed frame without its weighted mean: an offset would leak into the lowest bins. */
function loadFrame(frame: Doubles, channel: Samples, start: number, window: Doubles): void {
  let weight = 0;
  let sum = 0;
  for (let i = 0; i < window.length; i++) {
    weight += window[i] as number;
    sum += (window[i] as number) * (channel[start + i] as number);
  }
  // A single sample is its own mean, and has a spectrum all the same.
  const mean = window.length > 1 ? sum / weight : 0;
  for (let i = 0; i < window.length; i++)
    frame[i] = (window[i] as number) * ((channel[start + i] as number) - mean);
  frame.fill(0, window.length);
}

import { createFftPlan } from '../signal/fft-plan.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Octave bands of a take's levels, from the rumble below a voice to its air. */
const TAKE_BAND_EDGES_HZ: readonly number[] = Object.freeze([20, 90, 180, 350, 700, 1400, 2800, 5600, 11200]);

/** Number of those bands. */
export const TAKE_BANDS: number = TAKE_BAND_EDGES_HZ.length - 1;

const FRAME_SECONDS = 2048 / 48000;
const HOP_SECONDS = 512 / 48000;
/** Bins under this many to a band say nothing about its flatness. */
const LEAST_FLAT_BINS = 6;

/** A bin counts as this share of its band at the least, so that a logarithm exists. */
const LEAST_SHARE = 1e-12;

/** What a take holds per frame of 43 ms, every 10.7 ms. */
export interface TakeLevels {
  readonly hopSamples: number;
  readonly frameCount: number;
  /** Bands that the sample rate reaches: the first so many of TAKE_BANDS. */
  readonly usableBands: number;
  /** Mean square per frame and band, `frame · TAKE_BANDS + band`; 0 beyond the usable ones. */
  readonly powers: Doubles;
  /**
   * Flatness per frame and band: geometric over arithmetic mean of the bins' powers, about 0.5 for noise, near 0 for a few
   * partials. 1 in silence and in bands of too few bins.
   */
  readonly flatness: Doubles;
}

/**
 * Levels of a take in octave bands. Hann frames, frame k centred on sample k·hop, each about its own mean (an offset is
 * no sound), silence beyond the ends; powers averaged over channels.
 */
export function takeLevels(channels: readonly Samples[], sampleRateHz: number): TakeLevels {
  const lengthSamples = (channels[0] as Samples).length;
  const frameSamples = Math.round(FRAME_SECONDS * sampleRateHz);
  const hopSamples = Math.round(HOP_SECONDS * sampleRateHz);
  const frameCount = lengthSamples === 0 ? 0 : Math.floor((lengthSamples - 1) / hopSamples) + 1;
  let size = 2;
  while (size < frameSamples) size *= 2;
  const plan = createFftPlan(size);
  const binHz = sampleRateHz / size;
  const bins = TAKE_BAND_EDGES_HZ.map((hz) => Math.min(plan.binCount - 1, Math.round(hz / binHz)));
  // A band of which the rate leaves less than half is not told from its absence.
  const usableBands = TAKE_BAND_EDGES_HZ.slice(1).filter((hz) => 0.75 * hz < sampleRateHz / 2).length;
  const window = Float64Array.from(
    { length: frameSamples },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / frameSamples),
  );
  const windowPower = window.reduce((sum, w) => sum + w * w, 0);
  const scale = 2 / (windowPower * size * channels.length);
  const powers = new Float64Array(frameCount * TAKE_BANDS);
  const flatness = new Float64Array(frameCount * TAKE_BANDS);
  const frames = [new Float64Array(size), new Float64Array(size)] as const;
  const spectra = [new Float64Array(plan.binCount), new Float64Array(plan.binCount)] as const;
  const sums = [new Float64Array(plan.binCount), new Float64Array(plan.binCount)] as const;

  // Frames 2k and 2k + 1 share a transform.
  for (let t = 0; t < frameCount; t += 2) {
    for (const sum of sums) sum.fill(0);
    for (const samples of channels) {
      for (const [k, frame] of frames.entries())
        fillFrame(frame, window, samples, (t + k) * hopSamples - (frameSamples >> 1));
      plan.powerSpectraOfPair(...frames, ...spectra);
      for (const [k, sum] of sums.entries())
        for (let bin = 0; bin < sum.length; bin++)
          sum[bin] = (sum[bin] as number) + ((spectra[k] as Doubles)[bin] as number);
    }
    for (let k = 0; k < 2 && t + k < frameCount; k++) readBands(sums[k] as Doubles, t + k);
  }
  return { hopSamples, frameCount, usableBands, powers, flatness };

  function readBands(sum: Doubles, t: number): void {
    for (let band = 0; band < TAKE_BANDS; band++) {
      const from = Math.max(1, bins[band] as number);
      const to = band < usableBands ? (bins[band + 1] as number) : from;
      let power = 0;
      for (let k = from; k < to; k++) power += sum[k] as number;
      powers[t * TAKE_BANDS + band] = scale * power;
      flatness[t * TAKE_BANDS + band] = to - from < LEAST_FLAT_BINS ? 1 : flatnessOf(sum, from, to, power);
    }
  }
}

function fillFrame(frame: Doubles, window: Doubles, samples: Samples, start: number): void {
  const from = Math.max(0, start);
  const to = Math.min(samples.length, start + window.length);
  let mean = 0;
  for (let i = from; i < to; i++) mean += samples[i] as number;
  mean /= Math.max(1, to - from);
  frame.fill(0);
  for (let i = from; i < to; i++)
    frame[i - start] = (window[i - start] as number) * ((samples[i] as number) - mean);
}

function flatnessOf(power: Doubles, from: number, to: number, total: number): number {
  if (!(total > 0)) return 1;
  let logs = 0;
  let product = 1;
  for (let k = from; k < to; k++) {
    // One logarithm for sixteen bins: each factor lies within 1e-12 to about 1.
    product *= (power[k] as number) / total + LEAST_SHARE;
    if (((k - from) & 15) === 15) {
      logs += Math.log(product);
      product = 1;
    }
  }
  logs += Math.log(product);
  return Math.exp(logs / (to - from)) * (to - from);
}

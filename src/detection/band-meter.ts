import { createFftPlan } from '../signal/fft-plan.js';
import { addPairPowers } from '../signal/pair-powers.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { bandWeights } from './band-weights.js';
import { BAND_COUNT, FRAME_SECONDS, HOP_SECONDS } from './detection-scale.js';
import type { RowStore } from './row-store.js';

/** Turns a stream of samples into band powers per frame. */
export interface BandMeter {
  readonly hopSamples: number;
  /** Takes the next samples of every channel and adds the rows that are complete. */
  push(channels: readonly Samples[], rows: RowStore): void;
  /** Adds the last rows, with silence after the end. */
  flush(rows: RowStore): void;
}

/**
 * Mean-square power per band and frame (Hann window, frame k centred on sample k·hop), averaged over channels. A frame that
 * reaches over an end of the clip repeats the nearest one that does not: a clip that is cut off in a vowel would end in a
 * hiss, the spectrum of a step. Where there is none, silence lies before the start and after the end. Two frames (2k, 2k + 1) share one complex transform, whatever the blocks,
 * so the numbers do not depend on how the stream is cut.
 */
export function createBandMeter(sampleRateHz: number, channelCount: number): BandMeter {
  const frameSamples = Math.round(FRAME_SECONDS * sampleRateHz);
  const hopSamples = Math.round(HOP_SECONDS * sampleRateHz);
  const half = frameSamples >> 1;
  let fftSize = 2;
  while (fftSize < frameSamples) fftSize *= 2;
  const plan = createFftPlan(fftSize);
  const weights = bandWeights(sampleRateHz, fftSize);
  const window = new Float64Array(frameSamples);
  let windowPower = 0;
  for (let i = 0; i < frameSamples; i++) {
    // Centred between samples, so that a frame and its mirror image are windowed alike.
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / frameSamples);
    window[i] = w;
    windowPower += w * w;
  }
  const scale = 2 / (windowPower * fftSize * channelCount);
  // Two frames as the real and imaginary parts of one, and the spectrum of that.
  const pair = new Float64Array(2 * fftSize);
  const spectrum = new Float64Array(2 * fftSize);
  const binCount = weights.reduce(
    (most, { firstBin, shares }) => Math.max(most, firstBin + shares.length),
    1,
  );
  const evenPower = new Float64Array(binCount);
  const oddPower = new Float64Array(binCount);

  // Samples not yet used up, from `heldFrom` on; what lies before the start of the clip is silence.
  let held: Float32Array[] = Array.from({ length: channelCount }, () => new Float32Array(half));
  let heldFrom = -half;
  let frame = 0;
  let length = 0;
  /** The last row whose frame lies within the clip. */
  const whole = new Float64Array(BAND_COUNT);
  let wholeFrame = -1;

  return { hopSamples, push, flush };

  function push(channels: readonly Samples[], rows: RowStore): void {
    const count = channels[0]?.length ?? 0;
    held = held.map((tail, c) => joined(tail, channels[c] as Samples));
    length += count;
    while ((frame + 1) * hopSamples - half + frameSamples <= length) addPair(rows, 2);
    drop();
  }

  function flush(rows: RowStore): void {
    held = held.map((tail) => joined(tail, new Float32Array(frameSamples + hopSamples)));
    const frameCount = length === 0 ? 0 : Math.floor((length - 1) / hopSamples) + 1;
    while (frame < frameCount) addPair(rows, Math.min(2, frameCount - frame));
  }

  function addPair(rows: RowStore, count: number): void {
    for (let i = 0; i < count; i++) rows.add();
    // Asked for after the adding, which may move the rows.
    const first = rows.at(rows.end - count);
    for (const samples of held) {
      fill(samples, frame);
      plan.forwardComplex(pair, spectrum);
      // Only the bins that some band reads.
      addPairPowers(spectrum, evenPower, oddPower, 1, true);
      addBands(evenPower, rows.data, first);
      if (count === 2) addBands(oddPower, rows.data, first + BAND_COUNT);
    }
    for (let i = 0; i < count; i++) settle(rows.data, first + i * BAND_COUNT, frame + i);
    frame += count;
  }

  /** Keeps a row whose frame lies within the clip, and puts it in the place of those next to it that do not. */
  function settle(data: Doubles, at: number, index: number): void {
    const start = index * hopSamples - half;
    if (start >= 0 && start + frameSamples <= length) {
      for (let band = 0; band < BAND_COUNT; band++) whole[band] = data[at + band] as number;
      wholeFrame = index;
      if (index === 1) data.copyWithin(at - BAND_COUNT, at, at + BAND_COUNT);
    } else if (wholeFrame > 0) data.set(whole, at);
  }

  function fill(samples: Float32Array, index: number): void {
    const start = index * hopSamples - half - heldFrom;
    for (let i = 0, even = start, odd = start + hopSamples; i < frameSamples; i++, even++, odd++) {
      const w = window[i] as number;
      pair[2 * i] = w * (samples[even] as number);
      pair[2 * i + 1] = w * (samples[odd] as number);
    }
  }

  function addBands(power: Doubles, out: Doubles, position: number): void {
    for (let band = 0; band < BAND_COUNT; band++) {
      const { firstBin, shares } = weights[band] as (typeof weights)[number];
      let sum = 0;
      for (let i = 0; i < shares.length; i++) sum += (shares[i] as number) * (power[firstBin + i] as number);
      out[position + band] = (out[position + band] as number) + scale * sum;
    }
  }

  function drop(): void {
    const needed = frame * hopSamples - half;
    const surplus = Math.min(needed - heldFrom, held[0]?.length ?? 0);
    if (surplus <= 0) return;
    held = held.map((samples) => samples.slice(surplus));
    heldFrom += surplus;
  }
}

function joined(a: Float32Array, b: Float32Array): Float32Array {
  const out = new Float32Array(a.length + b.length);
  out.set(a);
  out.set(b, a.length);
  return out;
}

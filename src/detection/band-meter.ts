import type { Engine } from '../signal/engine.js';
import { createPairMeter } from '../signal/pair-meter.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { type BandWeights, bandWeights } from './band-weights.js';
import { FRAME_SECONDS, HOP_SECONDS, ROW_BANDS } from './detection-scale.js';
import type { RowStore } from './row-store.js';
import { skipSilence } from './skip-silence.js';

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
export function createBandMeter(
  sampleRateHz: number,
  channelCount: number,
  engine?: Engine | null,
): BandMeter {
  const frameSamples = Math.round(FRAME_SECONDS * sampleRateHz);
  const hopSamples = Math.round(HOP_SECONDS * sampleRateHz);
  const half = frameSamples >> 1;
  /** What two neighbouring frames reach. */
  const pairSamples = frameSamples + hopSamples;
  let fftSize = 2;
  while (fftSize < frameSamples) fftSize *= 2;
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
  // Only the bins that some band reads: one above half the rate has none.
  const binCount = weights.reduce(
    (most, { firstBin, shares }) => (shares.length > 0 ? Math.max(most, firstBin + shares.length) : most),
    1,
  );
  const meter = (engine?.createPairMeter ?? createPairMeter)(window, fftSize, binCount);
  const pairs = skipSilence(meter, frameSamples);

  // Samples before the present block that are not yet used up, from `heldFrom` on: less than a pair reaches. There is room for as many
  // of the block, so that pairs over its start lie in one piece. What lies before the start of the clip is silence.
  const held = Array.from({ length: channelCount }, () => new Float32Array(2 * pairSamples));
  let heldFrom = -half;
  let heldCount = half;
  let frame = 0;
  let length = 0;
  /** The last row whose frame lies within the clip. */
  const whole = new Float64Array(ROW_BANDS);
  let wholeFrame = -1;

  return { hopSamples, push, flush };

  function push(channels: readonly Samples[], rows: RowStore): void {
    const count = channels[0]?.length ?? 0;
    const blockFrom = length;
    const joined = Math.min(count, pairSamples);
    for (let c = 0; c < channelCount; c++)
      (held[c] as Samples).set((channels[c] as Samples).subarray(0, joined), heldCount);
    heldCount += joined;
    length += count;
    // Pairs that start before the block, then those inside it.
    const started = Math.ceil((blockFrom - nextPair()) / (2 * hopSamples));
    addFrames(held, heldFrom, 2 * Math.min(Math.max(0, started), completePairs()), rows);
    addFrames(channels, blockFrom, 2 * completePairs(), rows);
    keepRest(channels, blockFrom);
  }

  function flush(rows: RowStore): void {
    for (const samples of held) samples.fill(0, heldCount);
    const frameCount = length === 0 ? 0 : Math.floor((length - 1) / hopSamples) + 1;
    addFrames(held, heldFrom, frameCount - frame, rows);
  }

  /** Where the next pair starts, in samples from the start of the clip. */
  function nextPair(): number {
    return frame * hopSamples - half;
  }

  /** How many pairs, from the next one on, lie within what has come. */
  function completePairs(): number {
    return Math.max(0, Math.floor((length - pairSamples - nextPair()) / (2 * hopSamples)) + 1);
  }

  function addFrames(
    channels: readonly Samples[],
    channelsFrom: number,
    count: number,
    rows: RowStore,
  ): void {
    const start = nextPair() - channelsFrom;
    // Asked for before the data, which adding may move.
    const at = rows.add(count);
    const { data } = rows;
    for (let c = 0; c < channelCount && count > 0; c++) {
      pairs.begin(channels[c] as Samples);
      for (let i = 0; i < count; i += 2) {
        const row = at + i * ROW_BANDS;
        pairs.measure(start + i * hopSamples, start + (i + 1) * hopSamples);
        addBands(pairs.first, weights, scale, data, row);
        if (i + 1 < count) addBands(pairs.second, weights, scale, data, row + ROW_BANDS);
      }
    }
    for (let i = 0; i < count; i++) settle(data, at + i * ROW_BANDS, frame + i);
    frame += count;
  }

  /** Keeps a row whose frame lies within the clip, and puts it in the place of those next to it that do not. */
  function settle(data: Doubles, at: number, index: number): void {
    const start = index * hopSamples - half;
    if (start >= 0 && start + frameSamples <= length) {
      for (let band = 0; band < ROW_BANDS; band++) whole[band] = data[at + band] as number;
      wholeFrame = index;
      if (index === 1) data.copyWithin(at - ROW_BANDS, at, at + ROW_BANDS);
    } else if (wholeFrame > 0) data.set(whole, at);
  }

  /** Holds on to what the next pair needs of the samples so far. */
  function keepRest(channels: readonly Samples[], blockFrom: number): void {
    const from = nextPair();
    for (let c = 0; c < channelCount; c++) {
      const samples = held[c] as Samples;
      if (from >= blockFrom) samples.set((channels[c] as Samples).subarray(from - blockFrom));
      else samples.copyWithin(0, from - heldFrom, heldCount);
    }
    heldFrom = from;
    heldCount = length - from;
  }
}

/** Adds the powers of the bands to the row at `at`. */
function addBands(
  power: Doubles,
  weights: readonly BandWeights[],
  scale: number,
  out: Doubles,
  at: number,
): void {
  for (let band = 0; band < ROW_BANDS; band++) {
    const { firstBin, shares } = weights[band] as BandWeights;
    let sum = 0;
    for (let i = 0; i < shares.length; i++) sum += (shares[i] as number) * (power[firstBin + i] as number);
    out[at + band] = (out[at + band] as number) + scale * sum;
  }
}

import { type BiquadCoefficients, bandPass, highPass } from '../signal/biquad-design.js';
import { createBiquadState, filterBlockInto } from '../signal/biquad-filter.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Bands in which a stroke is looked for: enough that beating partials of a ring do not rise in all of them at once. */
const STROKE_BAND_COUNT = 6;

/** Powers per block of about 1 ms, averaged over channels: one row per block. */
export interface CymbalBands {
  readonly blockSamples: number;
  readonly blockCount: number;
  /** STROKE_BAND_COUNT bands, evenly spaced in octaves from 4 to 16 kHz. */
  readonly bands: readonly Doubles[];
  /** Everything above the lower edge. */
  readonly high: Doubles;
  /** Everything above 7 kHz. */
  readonly bright: Doubles;
  /** Around 1.5 kHz, where drums and voices are strong. */
  readonly body: Doubles;
}

/** Lower edge of what counts as cymbal, in Hz: 4 kHz, or less where the rate leaves no room above it. */
export function cymbalEdgeHz(sampleRateHz: number): number {
  return Math.min(4000, 0.3 * sampleRateHz);
}

/** Power above the lower edge per block of about 1 ms, averaged over channels. */
export interface CymbalEnvelope {
  readonly blockSamples: number;
  readonly powers: Doubles;
}

/** The envelope alone, of a whole clip: `high` of cymbalBands. */
export function cymbalEnvelope(channels: readonly Samples[], sampleRateHz: number): CymbalEnvelope {
  const edge = highPass({ sampleRateHz, frequencyHz: cymbalEdgeHz(sampleRateHz) });
  const blockSamples = Math.round(sampleRateHz / 1000);
  return { blockSamples, powers: meanPowers(channels, [edge, edge], blockSamples) };
}

/** Samples filtered at a time: bounds the working memory of a long clip. */
const CHUNK_SAMPLES = 1 << 15;

/** Measures a whole clip. Polarity, order of channels and a constant offset make no difference. */
export function cymbalBands(channels: readonly Samples[], sampleRateHz: number): CymbalBands {
  const blockSamples = Math.round(sampleRateHz / 1000);
  const blockCount = Math.ceil((channels[0] as Samples).length / blockSamples);
  const measure = (sections: Sections): Doubles => meanPowers(channels, sections, blockSamples);
  const above = (frequencyHz: number): BiquadCoefficients => highPass({ sampleRateHz, frequencyHz });
  const lowHz = cymbalEdgeHz(sampleRateHz);
  const highHz = Math.min(16_000, 0.46 * sampleRateHz);
  const ratio = (highHz / lowHz) ** (1 / STROKE_BAND_COUNT);
  // Bandwidth of one step between the −3 dB points: 1/Q = √ratio − 1/√ratio.
  const q = 1 / (Math.sqrt(ratio) - 1 / Math.sqrt(ratio));
  const bands = Array.from({ length: STROKE_BAND_COUNT }, (_, k) =>
    measure([above(lowHz), bandPass({ sampleRateHz, frequencyHz: lowHz * ratio ** (k + 0.5), q })]),
  );
  const brightHz = Math.min(7000, 0.38 * sampleRateHz);
  const bodyHz = Math.min(1500, 0.18 * sampleRateHz);
  return {
    blockSamples,
    blockCount,
    bands,
    high: cymbalEnvelope(channels, sampleRateHz).powers,
    bright: measure([above(brightHz), above(brightHz)]),
    body: measure([above(bodyHz / 2), bandPass({ sampleRateHz, frequencyHz: bodyHz, q: 0.8 })]),
  };
}

type Sections = readonly BiquadCoefficients[];

/** Mean squares per block, averaged over channels; channel by channel, so that two give the same sums in either order. */
function meanPowers(channels: readonly Samples[], sections: Sections, blockSamples: number): Doubles {
  const sums = new Float64Array(Math.ceil((channels[0] as Samples).length / blockSamples));
  for (const channel of channels) {
    const powers = blockPowers(channel, sections, blockSamples, sums.length);
    for (let b = 0; b < sums.length; b++) sums[b] = (sums[b] as number) + (powers[b] as number);
  }
  return sums.map((power) => power / channels.length);
}

/** Mean squares of one filtered channel per block. */
function blockPowers(
  samples: Samples,
  sections: Sections,
  blockSamples: number,
  blockCount: number,
): Doubles {
  const powers = new Float64Array(blockCount);
  const state = createBiquadState(sections.length);
  // A filter at rest would hear a constant offset as a click at the first sample.
  const offset = samples[0] as number;
  const scratch = new Float32Array(Math.min(samples.length, CHUNK_SAMPLES));
  for (let from = 0; from < samples.length; from += CHUNK_SAMPLES) {
    const chunk = scratch.subarray(0, Math.min(CHUNK_SAMPLES, samples.length - from));
    for (let i = 0; i < chunk.length; i++) chunk[i] = (samples[from + i] as number) - offset;
    filterBlockInto(chunk, chunk, sections, state);
    for (let i = 0; i < chunk.length; i++) {
      const b = Math.floor((from + i) / blockSamples);
      powers[b] = (powers[b] as number) + (chunk[i] as number) ** 2;
    }
  }
  for (let b = 0; b < blockCount; b++) {
    const count = Math.min(blockSamples, samples.length - b * blockSamples);
    powers[b] = (powers[b] as number) / count;
  }
  return powers;
}

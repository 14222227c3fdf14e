import { highPass } from '../signal/biquad-design.js';
import { filterSamples } from '../signal/biquad-filter.js';
import type { Doubles, Samples } from '../signal/samples.js';
import type { SampleSpan } from './free-parts.js';

/** What the caller may set. */
export interface ClickRule {
  readonly sampleRateHz: number;
  readonly mostSeconds: number;
  readonly aboveDb: number;
}

/** A transient that stands alone. */
export interface ClickSpan extends SampleSpan {
  /** Mean square above the corner in its loudest quarter of a millisecond. */
  readonly peakPower: number;
  /** How far that stands above everything else within 50 ms, in dB. */
  readonly aboveDb: number;
}

const BLOCK_SECONDS = 0.00025;
/** Corner of the high-pass: a click is wide-band, and below this stand voice and rumble. */
const CORNER_HZ = 2000;
/** Sound this near is looked at: two pulses of a creaking voice at 20 Hz. */
const NEAR_SECONDS = 0.05;
/** A click lasts while its power stays within this of its peak, in dB; its skirts beside it are not counted against it. */
const EXTENT_DB = 15;
const SKIRT_SECONDS = 0.0015;
/** Share of a click's own power that lies above the corner; a pulse of the voice rings at its formants below it. */
const LEAST_HIGH_SHARE = 0.3;

/** Finds short transients above 2 kHz with nothing as loud within 50 ms, in order of time. */
export function clickSpans(channels: readonly Samples[], rule: ClickRule): readonly ClickSpan[] {
  const { sampleRateHz } = rule;
  const block = Math.max(1, Math.round(BLOCK_SECONDS * sampleRateHz));
  const lengthSamples = (channels[0] as Samples).length;
  const { high, all } = blockPowers(channels, sampleRateHz, block);
  const blocks = (seconds: number): number => Math.max(1, Math.round((seconds * sampleRateHz) / block));
  const near = blocks(NEAR_SECONDS);
  const skirt = blocks(SKIRT_SECONDS);
  const most = blocks(rule.mostSeconds);
  const above = 10 ** (rule.aboveDb / 10);
  const extent = 10 ** (-EXTENT_DB / 10);
  const found: ClickSpan[] = [];

  for (let b = 0; b < high.length; b++) {
    const peak = high[b] as number;
    // Only the greatest block of its surroundings can be a peak.
    if (peak <= 0 || (high[b - 1] ?? 0) > peak || (high[b + 1] ?? 0) >= peak) continue;
    let from = b;
    let to = b + 1;
    while (from > 0 && b - from <= most && (high[from - 1] as number) > extent * peak) from--;
    while (to < high.length && to - b <= most && (high[to] as number) > extent * peak) to++;
    if (to - from > most) continue;
    // A click of several peaks is told at its greatest.
    if (greatest(high, from, to) > peak) continue;
    const enough = peak / above;
    const before = greatest(high, b - near, from - skirt, enough);
    if (before > enough) continue;
    const beside = Math.max(before, greatest(high, to + skirt, b + near + 1, enough));
    if (beside > enough || !isHigh(from, to)) continue;
    found.push({
      startSample: Math.max(0, (from - 1) * block),
      endSample: Math.min(lengthSamples, (to + 1) * block),
      peakPower: peak,
      aboveDb: Math.min(200, 10 * Math.log10(peak / (beside + Number.MIN_VALUE))),
    });
  }
  return found;

  /** Whether what the click adds to the sound around it lies mostly above the corner. */
  function isHigh(from: number, to: number): boolean {
    let own = 0;
    let ownHigh = 0;
    for (let b = from; b < to; b++) {
      own += all[b] as number;
      ownHigh += high[b] as number;
    }
    let around = 0;
    let count = 0;
    for (let b = Math.max(0, from - near); b < Math.min(all.length, to + near); b++) {
      if (b >= from - skirt && b < to + skirt) continue;
      around += all[b] as number;
      count++;
    }
    const added = own - (count === 0 ? 0 : (around / count) * (to - from));
    return ownHigh >= LEAST_HIGH_SHARE * added;
  }
}

function blockPowers(
  channels: readonly Samples[],
  sampleRateHz: number,
  block: number,
): { high: Doubles; all: Doubles } {
  const filter = highPass({ sampleRateHz, frequencyHz: Math.min(CORNER_HZ, 0.3 * sampleRateHz) });
  const count = Math.ceil((channels[0] as Samples).length / block);
  const high = new Float64Array(count);
  const all = new Float64Array(count);
  for (const samples of channels) {
    const mean = meanOf(samples);
    const centred = samples.map((x) => x - mean) as Samples;
    const filtered = filterSamples(centred, [filter, filter]);
    for (let i = 0; i < samples.length; i++) {
      const b = Math.floor(i / block);
      high[b] = (high[b] as number) + (filtered[i] as number) ** 2 / (block * channels.length);
      all[b] = (all[b] as number) + (centred[i] as number) ** 2 / (block * channels.length);
    }
  }
  return { high, all };
}

function meanOf(samples: Samples): number {
  let sum = 0;
  for (const x of samples) sum += x;
  return samples.length === 0 ? 0 : sum / samples.length;
}

/** The greatest value within [from, to), 0 for none; the first one above `enough`, where that is all there is to know. */
function greatest(
  values: Doubles,
  from: number,
  to: number,
  enough: number = Number.POSITIVE_INFINITY,
): number {
  const end = Math.min(values.length, to);
  let most = 0;
  for (let b = Math.max(0, from); b < end && most <= enough; b++) most = Math.max(most, values[b] as number);
  return most;
}

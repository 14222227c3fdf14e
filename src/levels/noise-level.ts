import type { RegionKind } from '../regions/region.js';
import { quantileOf } from '../signal/quantile-of.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { meanOf } from './region-spectrum.js';

/** Kinds that are a steady noise beside a louder vowel. */
const STEADY: readonly RegionKind[] = ['sibilant', 'fricative'];
/** Left out at each end of a steady noise, but no more than a fifth of it. */
const END_SECONDS = 0.005;
/** Length of the blocks that are held. */
const BLOCK_SECONDS = 0.005;
/** Most power of a block relative to the median block: 6 dB. */
const MOST_OVER_MEDIAN = 10 ** 0.6;

/**
 * Power of the noise in [start, end) about its own mean, channels averaged. A few milliseconds of vowel that an edge
 * caught would raise a soft f, 18 dB below it, by several dB; so of a sibilant or fricative 5 ms are left out at each
 * end, and of the rest no block of 5 ms counts for more than 6 dB above the median block. Other kinds are taken as
 * they are: the power of a burst is all in its first milliseconds.
 */
export function noisePower(
  channels: readonly Samples[],
  sampleRateHz: number,
  { start, end }: { readonly start: number; readonly end: number },
  kind: RegionKind,
): number {
  if (!STEADY.includes(kind)) return blockPowers(channels, start, end, 1)[0] as number;
  const left = Math.min(Math.round(END_SECONDS * sampleRateHz), Math.floor((end - start) / 5));
  const count = Math.max(1, Math.floor((end - start - 2 * left) / (BLOCK_SECONDS * sampleRateHz)));
  const powers = blockPowers(channels, start + left, end - left, count);
  const most =
    MOST_OVER_MEDIAN *
    quantileOf(
      [...powers].sort((a, b) => a - b),
      0.5,
    );
  let sum = 0;
  for (const power of powers) sum += Math.min(power, most);
  return sum / count;
}

/** Mean square, about the mean of the whole stretch, of each of `count` equal parts of it. */
function blockPowers(channels: readonly Samples[], start: number, end: number, count: number): Doubles {
  const powers = new Float64Array(count);
  const edge = (part: number): number => start + Math.floor((part * (end - start)) / count);
  for (const channel of channels) {
    const mean = meanOf(channel, start, end);
    for (let part = 0; part < count; part++) {
      const from = edge(part);
      const to = edge(part + 1);
      let sum = 0;
      for (let n = from; n < to; n++) sum += ((channel[n] as number) - mean) ** 2;
      powers[part] = (powers[part] as number) + sum / ((to - from) * channels.length);
    }
  }
  return powers;
}

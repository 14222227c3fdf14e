import { highPass } from '../signal/biquad-design.js';
import { createBiquadState, filterBlockInto } from '../signal/biquad-filter.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { cymbalEdgeHz } from './cymbal-bands.js';

/** Stretch around the coarse onset in which the attack is looked for, in seconds. */
const EARLIER = 0.01;
const LATER = 0.014;
/** Before it, to let the filters settle and to read the level before the stroke. */
const BEFORE = 0.012;
const SETTLE = 0.002;
/** Length over which the power is averaged, in seconds: three periods at 4 kHz need 0.75 ms, but the attack is sharper. */
const SMOOTH = 0.0003;
/** The attack begins where the power leaves this share of its crest. */
const FOOT_SHARE = 0.02;
/** Averages this short of a ring or of noise swing up to this much above their mean. */
const SWING = 5;

/**
 * First sample of an attack near a coarse onset: going back from the crest of the power above 4 kHz (averaged over 0.3 ms),
 * where it first stays for 1 ms below 2 % of that crest, or below 5 times the mean power before if that is more (at most half
 * the crest). Channel powers are averaged.
 */
export function refineStroke(
  channels: readonly Samples[],
  coarseSample: number,
  earliestSample: number,
  sampleRateHz: number,
): number {
  const samples = (seconds: number): number => Math.round(seconds * sampleRateHz);
  const length = (channels[0] as Samples).length;
  const from = Math.max(earliestSample, coarseSample - samples(EARLIER));
  const start = Math.max(0, from - samples(BEFORE));
  const end = Math.min(length, coarseSample + samples(LATER));
  const power = smoothedPower(channels, start, end, sampleRateHz);
  let crestAt = from - start;
  for (let i = crestAt; i < power.length; i++)
    if ((power[i] as number) > (power[crestAt] as number)) crestAt = i;
  const crest = power[crestAt] as number;
  let before = 0;
  const settled = Math.min(samples(SETTLE), from - start);
  for (let i = settled; i < from - start; i++) before += (power[i] as number) / (from - start - settled);
  const foot = Math.min(0.5 * crest, Math.max(FOOT_SHARE * crest, SWING * before));
  const quiet = samples(0.001);
  let first = crestAt;
  for (let i = crestAt; i >= from - start && first - i <= quiet; i--)
    if ((power[i] as number) >= foot) first = i;
  return start + first;
}

/** Power above 4 kHz, averaged over 0.3 ms up to each sample and moved back by half of that. */
function smoothedPower(
  channels: readonly Samples[],
  start: number,
  end: number,
  sampleRateHz: number,
): Doubles {
  const edge = highPass({ sampleRateHz, frequencyHz: cymbalEdgeHz(sampleRateHz) });
  const sections = [edge, edge];
  const count = end - start;
  const power = new Float64Array(count);
  for (const channel of channels) {
    const state = createBiquadState(2);
    const scratch = new Float32Array(count);
    // From rest at the first sample, as in cymbalBands.
    const offset = channel[start] as number;
    for (let i = 0; i < count; i++) scratch[i] = (channel[start + i] as number) - offset;
    filterBlockInto(scratch, scratch, sections, state);
    for (let i = 0; i < count; i++)
      power[i] = (power[i] as number) + (scratch[i] as number) ** 2 / channels.length;
  }
  const width = Math.max(2, Math.round(SMOOTH * sampleRateHz));
  const half = width >> 1;
  const smooth = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count + half; i++) {
    sum += i < count ? (power[i] as number) : 0;
    sum -= i >= width ? (power[i - width] ?? 0) : 0;
    if (i >= half) smooth[i - half] = Math.max(0, sum) / width;
  }
  return smooth;
}

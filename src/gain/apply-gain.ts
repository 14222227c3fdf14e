import { firstEndingAfter } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { channelList, checkFinite, rangeError } from '../signal/check.js';
import type { Channels, Doubles, Samples } from '../signal/samples.js';
import { createFadeCurves, type FadeCurves } from './fade-curves.js';
import { type RegionGain, regionGain, regionGainAt } from './region-gain.js';

/** Copies the input into `out` (nothing to do where they are one array) and returns `out` as a list of channels. */
export function copyChannels(
  functionName: string,
  out: Channels,
  input: readonly Samples[],
): readonly Samples[] {
  const target = channelList(functionName, out, 'out');
  const length = (input[0] as Samples).length;
  if (target.length !== input.length)
    throw rangeError(functionName, 'out', `must have as many channels as the input (${input.length})`, out);
  if (target[0]?.length !== length)
    throw rangeError(functionName, 'out', `must be as long as the input (${length} samples)`, target[0]);
  for (let c = 0; c < input.length; c++) {
    if (target[c] !== input[c]) (target[c] as Samples).set(input[c] as Samples);
  }
  return target;
}

/**
 * Multiplies, in place, the samples of every region without a band by its gain. The block's sample 0 is the clip's
 * `blockStartSample`. All touched samples are checked before the first is changed.
 */
export function applyGain(
  functionName: string,
  channels: readonly Samples[],
  list: RegionList,
  blockStartSample: number,
): void {
  const blockEndSample = blockStartSample + (channels[0] as Samples).length;
  const { regions } = list;
  const first = firstEndingAfter(regions, blockStartSample);
  const touched: RegionGain[] = [];
  for (let index = first; index < regions.length; index++) {
    const region = regions[index] as Region;
    if (region.startSample >= blockEndSample) break;
    const gain = regionGain(regions, index);
    if (gain === null) continue;
    touched.push(gain);
    const start = Math.max(region.startSample - blockStartSample, 0);
    const end = Math.min(region.endSample, blockEndSample) - blockStartSample;
    for (let c = 0; c < channels.length; c++)
      checkFinite(functionName, nameOf(channels, c), channels[c] as Samples, start, end);
  }
  const curves = createFadeCurves();
  for (const gain of touched)
    for (const channel of channels) applyRegionGain(channel, gain, blockStartSample, blockEndSample, curves);
}

/** What a message calls a channel. */
export function nameOf(channels: readonly Samples[], c: number): string {
  return channels.length === 1 ? 'samples' : `channels[${c}]`;
}

function applyRegionGain(
  channel: Samples,
  gain: RegionGain,
  blockStart: number,
  blockEnd: number,
  curves: FadeCurves,
): void {
  const start = Math.max(gain.startSample, blockStart);
  const end = Math.min(gain.endSample, blockEnd);
  const holdStart = Math.min(Math.max(gain.fadeInEndSample, start), end);
  const holdEnd = Math.min(Math.max(gain.fadeOutStartSample, holdStart), end);
  const { fromGain, gain: own, toGain, shape } = gain;
  // Of a fade that the block cuts, only this part is worked out.
  const wholeIn = start === gain.startSample && holdStart === gain.fadeInEndSample;
  const wholeOut = holdEnd === gain.fadeOutStartSample && end === gain.endSample;
  const fadeIn = wholeIn ? curves(holdStart - start, fromGain, own, shape) : null;
  const fadeOut = wholeOut ? curves(end - holdEnd, own, toGain, shape) : null;
  // Storing into a Float32Array rounds to nearest, ties to even: the same as Math.fround of the double product.
  if (fadeIn) multiply(channel, start - blockStart, fadeIn);
  else for (let s = start; s < holdStart; s++) scale(channel, s - blockStart, regionGainAt(gain, s));
  for (let i = holdStart - blockStart; i < holdEnd - blockStart; i++) scale(channel, i, own);
  if (fadeOut) multiply(channel, holdEnd - blockStart, fadeOut);
  else for (let s = holdEnd; s < end; s++) scale(channel, s - blockStart, regionGainAt(gain, s));
}

function multiply(channel: Samples, at: number, factors: Doubles): void {
  for (let i = 0; i < factors.length; i++) scale(channel, at + i, factors[i] as number);
}

function scale(channel: Samples, i: number, factor: number): void {
  channel[i] = factor * (channel[i] as number);
}

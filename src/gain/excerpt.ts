import { channelsOfClip } from '../regions/channels-of-clip.js';
import { idSet, type RegionIds } from '../regions/edit-regions.js';
import type { RegionList } from '../regions/region.js';
import { secondsToSamples } from '../regions/time.js';
import { checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, NewSamples, Samples } from '../signal/samples.js';

/** How much is heard around a region. */
export interface ExcerptOptions {
  /** Sound before the region, in seconds, 0 to 60. Default 0.5. */
  readonly preSeconds?: number;
  /** Sound after the region, in seconds, 0 to 60. Default 0.5. */
  readonly postSeconds?: number;
}

/** Half a second on each side: about a word before and after, so that the consonant is judged in its place (common practice, no source). */
export const DEFAULT_EXCERPT_OPTIONS: Readonly<Required<Pick<ExcerptOptions, 'preSeconds' | 'postSeconds'>>> =
  Object.freeze({
    preSeconds: 0.5,
    postSeconds: 0.5,
  });

/** Where an excerpt lies in its clip, and where the regions lie in the excerpt; half-open, in samples. */
export interface ExcerptPlace {
  /** Position in the clip of the excerpt's first sample. */
  readonly startSample: number;
  /** One past the excerpt's last sample, in the clip. */
  readonly endSample: number;
  /** Position in the excerpt of the first region's first sample; less than `preSeconds` where the clip begins too soon. */
  readonly regionStartSample: number;
  /** One past the last region's last sample, in the excerpt. */
  readonly regionEndSample: number;
}

/** A piece of a clip around one region or several, to listen to. */
export interface Excerpt<Audio> extends ExcerptPlace {
  /** A copy, in the shape of the clip: one channel, or as many as it has. */
  readonly audio: Audio;
}

/**
 * Cuts out one region with some sound before and after it, to hear it in its place; a consonant alone sounds harsher
 * than it is. Several ids: one piece, from the start of the first to the end of the last.
 *
 * Nothing is rendered, scaled or faded: the excerpt is the clip's samples to the bit. Take a rendered clip to hear the
 * result, or see beforeAndAfter.
 *
 * @param channels - One channel or several, each `list.lengthSamples` long; not changed, not checked for NaN.
 * @param list - The regions of the clip.
 * @param ids - One id or several, in any order.
 * @param options - Pre- and post-roll in seconds, to the nearest sample; they end where the clip does.
 * @returns A frozen object with the copy and its place.
 * @throws RangeError for an unknown id, no id, a roll outside [0, 60] or a clip of another length than the list says;
 *   TypeError for audio or ids of the wrong kind.
 *
 * Source: common practice, no source (pre- and post-roll of an audition).
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { excerpt } from 'lenition/gain';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { startSample: 2000, endSample: 6000 });
 * const piece = excerpt(new Float32Array(48000), list, 1, { preSeconds: 0.1, postSeconds: 0.1 });
 * [piece.startSample, piece.endSample, piece.regionStartSample]; // => [0, 10800, 2000]
 */
export function excerpt(
  channels: Samples,
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): Excerpt<NewSamples>;
export function excerpt(
  channels: readonly Samples[],
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): Excerpt<NewSamples[]>;
export function excerpt(
  channels: Channels,
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): Excerpt<NewSamples | NewSamples[]>;
export function excerpt(
  channels: Channels,
  list: RegionList,
  ids: RegionIds,
  options: ExcerptOptions = {},
): Excerpt<NewSamples | NewSamples[]> {
  channelsOfClip('excerpt', list, channels);
  const place = excerptPlace('excerpt', list, ids, options);
  return Object.freeze({ ...place, audio: cutOut(channels, place) });
}

/** The place of an excerpt around the regions with these ids. */
export function excerptPlace(
  functionName: string,
  list: RegionList,
  ids: RegionIds,
  options: ExcerptOptions,
): ExcerptPlace {
  const { preSeconds, postSeconds } = checkedOptions(functionName, DEFAULT_EXCERPT_OPTIONS, options);
  checkNumber(functionName, 'preSeconds', preSeconds, 0, 60);
  checkNumber(functionName, 'postSeconds', postSeconds, 0, 60);
  const wanted = idSet(functionName, ids);
  const regions = list.regions.filter((region) => wanted.has(region.id));
  if (regions.length < wanted.size || regions.length === 0)
    throw rangeError(functionName, 'ids', 'must be ids of regions of the list, at least one', ids);
  const first = (regions[0] as { startSample: number }).startSample;
  const end = (regions[regions.length - 1] as { endSample: number }).endSample;
  const startSample = Math.max(0, first - secondsToSamples(preSeconds, list.sampleRateHz));
  const endSample = Math.min(list.lengthSamples, end + secondsToSamples(postSeconds, list.sampleRateHz));
  return {
    startSample,
    endSample,
    regionStartSample: first - startSample,
    regionEndSample: end - startSample,
  };
}

/** A copy of a piece of audio, in the same shape. */
export function cutOut(
  channels: Channels,
  { startSample, endSample }: ExcerptPlace,
): NewSamples | NewSamples[] {
  return channels instanceof Float32Array
    ? channels.slice(startSample, endSample)
    : channels.map((channel) => channel.slice(startSample, endSample));
}

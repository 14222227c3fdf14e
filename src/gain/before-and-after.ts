import { checkListShape } from '../regions/check-list-shape.js';
import type { RegionIds } from '../regions/edit-regions.js';
import type { RegionList } from '../regions/region.js';
import type { Channels, NewSamples, Samples } from '../signal/samples.js';
import { cutOut, type ExcerptOptions, type ExcerptPlace, excerptPlace } from './excerpt.js';
import { renderedClip } from './render-gain.js';

/** The same piece of a clip as recorded and as rendered, sample by sample. */
export interface BeforeAndAfter<Audio> extends ExcerptPlace {
  /** As recorded: a copy in the shape of the clip. */
  readonly before: Audio;
  /** As renderGain gives it. */
  readonly after: Audio;
}

/**
 * The pair to switch between when judging a cut: one region, or several in one piece, with some sound around it, as
 * recorded and as rendered.
 *
 * The two are matched on what is not cut. The vowels are the same samples to the bit, so they match at exactly 0 dB and
 * the consonant alone is heard to change. Nothing is matched by loudness: that would lift the whole quieter version, and
 * the vowels with it, by a part of what was taken away. Other regions of the list that reach into the piece are
 * rendered too; to hear one by itself, bypass them.
 *
 * @param channels - One channel or several, each `list.lengthSamples` long; not changed.
 * @param list - The regions of the clip.
 * @param ids - One id or several; the piece goes from the start of the first to the end of the last.
 * @param options - Pre- and post-roll, as in excerpt. It ends where the clip does.
 * @returns A frozen object with both versions and their place, of equal length.
 * @throws As excerpt and renderGain: among others for a sample inside an active region that is NaN or infinite.
 *
 * Source: common practice, no source.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { beforeAndAfter } from 'lenition/gain';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { startSample: 20000, endSample: 24000, gainDb: -6 });
 * const pair = beforeAndAfter(new Float32Array(48000).fill(0.5), list, 1, { preSeconds: 0.1 });
 * [pair.startSample, pair.regionStartSample, pair.before.length]; // => [15200, 4800, 32800]
 * [pair.before[0], pair.after[0], pair.after[6800]]; // => [0.5, 0.5, 0.2506]
 */
export function beforeAndAfter(
  channels: Samples,
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): BeforeAndAfter<NewSamples>;
export function beforeAndAfter(
  channels: readonly Samples[],
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): BeforeAndAfter<NewSamples[]>;
export function beforeAndAfter(
  channels: Channels,
  list: RegionList,
  ids: RegionIds,
  options?: ExcerptOptions,
): BeforeAndAfter<NewSamples | NewSamples[]>;
export function beforeAndAfter(
  channels: Channels,
  list: RegionList,
  ids: RegionIds,
  options: ExcerptOptions = {},
): BeforeAndAfter<NewSamples | NewSamples[]> {
  checkListShape('beforeAndAfter', list);
  const place = excerptPlace('beforeAndAfter', list, ids, options);
  const after = cutOut(renderedClip('beforeAndAfter', channels, list), place);
  return Object.freeze({ ...place, before: cutOut(channels, place), after });
}

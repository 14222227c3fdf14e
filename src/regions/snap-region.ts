import { channelList, checkChoice, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Samples } from '../signal/samples.js';
import { checkListShape } from './check-list-shape.js';
import { indexOfId, unlockedAt } from './find-index.js';
import { withEdges } from './fit-region.js';
import type { RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';
import { nearestCrossing } from './snap-to-zero-crossing.js';
import { samplesWithin } from './time.js';

/** How far an edge may be moved to a zero crossing. */
export interface SnapRegionOptions {
  /** Farthest move of each edge, in seconds, 0 to 0.001; rounded down to whole samples. */
  readonly withinSeconds: number;
  /** Which edges are snapped: after `moveEdges` with one edge, that one. */
  readonly edges: 'both' | 'start' | 'end';
}

/** One millisecond: shorter than the fades that engineers use (common practice: 2 to 10 ms), so that no noise escapes. */
export const DEFAULT_SNAP_REGION_OPTIONS: SnapRegionOptions = Object.freeze({
  withinSeconds: 0.001,
  edges: 'both',
});

/**
 * The list with both edges of one region, or one of them, moved to the nearest zero crossing on the noise side: the start later, the end
 * earlier, each by at most `withinSeconds` and never past the middle. So a region only shrinks and no vowel comes
 * under the gain. An edge without a crossing in reach stays. Fades that no longer fit are shortened in proportion.
 *
 * Audio of several channels is not snapped, since its channels do not cross zero together: the list is returned as it
 * is, and the fades do the work.
 *
 * @param list a sound region list
 * @param id the region
 * @param channels the clip that the list belongs to, `list.lengthSamples` long
 * @param options reach in seconds, and the edges
 * @throws RangeError where the clip is not as long as the list says, the id is unknown, the region locked, the reach
 * out of range, or a sample that is read is NaN or infinite; TypeError where the audio is of the wrong kind. The list
 * passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, snapRegion } from 'lenition/regions';
 * const samples = new Float32Array(48000).map((_, i) => Math.sin((2 * Math.PI * 1000 * (i + 0.5)) / 48000));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { startSample: 4805, endSample: 9595 });
 * const region = regionById(snapRegion(list, 1, samples), 1);
 * [region?.startSample, region?.endSample]; // => [4824, 9576]
 */
export function snapRegion(
  list: RegionList,
  id: number,
  channels: Channels,
  options: Partial<SnapRegionOptions> = {},
): RegionList {
  checkListShape('snapRegion', list);
  const { withinSeconds, edges } = checkedOptions('snapRegion', DEFAULT_SNAP_REGION_OPTIONS, options);
  checkNumber('snapRegion', 'withinSeconds', withinSeconds, 0, 0.001);
  checkChoice('snapRegion', 'edges', edges, ['both', 'start', 'end']);
  const signals = channelList('snapRegion', channels);
  const samples = signals[0] as Samples;
  if (samples.length !== list.lengthSamples)
    throw rangeError('snapRegion', 'channels', `must be ${list.lengthSamples} samples long`, samples.length);
  const index = indexOfId('snapRegion', list, id);
  const region = unlockedAt('snapRegion', list, index);
  if (signals.length > 1) return list;
  const { startSample, endSample } = region;
  const reach = samplesWithin(withinSeconds, list.sampleRateHz);
  const withinSamples = Math.min(reach, Math.floor((endSample - startSample - 1) / 2));
  const start =
    edges === 'end'
      ? startSample
      : nearestCrossing('snapRegion', samples, startSample, { withinSamples, direction: 'later' });
  const end =
    edges === 'start'
      ? endSample
      : nearestCrossing('snapRegion', samples, endSample, { withinSamples, direction: 'earlier' });
  const snapped = withEdges(region, start, end);
  return spliceRegions('snapRegion', list, index, 1, [snapped], list.nextId, () => 'region');
}

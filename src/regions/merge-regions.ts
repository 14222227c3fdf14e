import { rangeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { idSet } from './edit-regions.js';
import { indexOfId, unlockedAt } from './find-index.js';
import type { Region, RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';

/**
 * The list with two or more neighbouring regions made one, gaps between them included. The earliest gives
 * id, start and fade-in, the latest end and fade-out, the longest (the earliest of equally long ones) all the
 * rest: kind, gain, band, confidence, label, reason, bypass, fade shape. Onset is the earliest onset among them, offset
 * the latest offset; should the two contradict each other, both are null.
 *
 * @param list a sound region list
 * @param ids two or more different ids, in any order
 * @throws TypeError for wrong kinds of argument; RangeError where fewer than two different ids are given, one is unknown or its region locked, or
 * another region lies between them; the list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegions, mergeRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegions(empty, [
 *   { startSample: 0, endSample: 480, kind: 'burst' },
 *   { startSample: 960, endSample: 4800, kind: 'sibilant' },
 * ]);
 * mergeRegions(list, [1, 2]).regions.map((r) => [r.id, r.kind, r.startSample, r.endSample]); // => [[1, 'sibilant', 0, 4800]]
 */
export function mergeRegions(list: RegionList, ids: readonly number[]): RegionList {
  checkListShape('mergeRegions', list);
  const wanted = idSet('mergeRegions', ids);
  if (wanted.size < 2) throw rangeError('mergeRegions', 'ids', 'must be at least two different ids', ids);
  let first = list.regions.length;
  let last = -1;
  const left = new Set(wanted);
  for (let i = 0; i < list.regions.length; i++) {
    if (!left.delete((list.regions[i] as Region).id)) continue;
    unlockedAt('mergeRegions', list, i);
    first = Math.min(first, i);
    last = i;
  }
  for (const id of left) indexOfId('mergeRegions', list, id);
  const count = last - first + 1;
  for (let i = first; i <= last; i++) {
    const id = (list.regions[i] as Region).id;
    if (!wanted.has(id))
      throw rangeError('mergeRegions', 'ids', 'must leave out no region between the first and the last', id);
  }
  const merged = mergedRegion(list.regions.slice(first, last + 1));
  return spliceRegions('mergeRegions', list, first, count, [merged], list.nextId, () => 'region');
}

/** One region in place of neighbours, by the rules of `mergeRegions`. */
export function mergedRegion(regions: readonly Region[]): Region {
  const earliest = regions[0] as Region;
  const latest = regions[regions.length - 1] as Region;
  let longest = earliest;
  let onsetSample = Number.POSITIVE_INFINITY;
  let offsetSample = Number.NEGATIVE_INFINITY;
  for (const region of regions) {
    if (region.endSample - region.startSample > longest.endSample - longest.startSample) longest = region;
    onsetSample = Math.min(onsetSample, region.onsetSample ?? Number.POSITIVE_INFINITY);
    offsetSample = Math.max(offsetSample, region.offsetSample ?? Number.NEGATIVE_INFINITY);
  }
  const both = Number.isFinite(onsetSample) && Number.isFinite(offsetSample);
  const contradict = both && onsetSample >= offsetSample;
  return {
    ...longest,
    id: earliest.id,
    startSample: earliest.startSample,
    endSample: latest.endSample,
    fadeInSamples: earliest.fadeInSamples,
    fadeOutSamples: latest.fadeOutSamples,
    onsetSample: Number.isFinite(onsetSample) && !contradict ? onsetSample : null,
    offsetSample: Number.isFinite(offsetSample) && !contradict ? offsetSample : null,
  };
}

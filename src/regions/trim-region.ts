import { checkInteger, rangeError } from '../signal/check.js';
import { indexOfId, unlockedAt } from './find-index.js';
import { cutPiece } from './fit-region.js';
import type { RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';

/**
 * The list with one region cut down to its part within a range; a region that lies within it stays as it is. Fades are
 * shortened to fit; a measured edge that the cut takes away becomes null, as when splitting.
 *
 * @param list a sound region list
 * @param id the region
 * @param startSample first sample of the range
 * @param endSample one past its last sample
 * @throws TypeError for wrong kinds of argument; RangeError where nothing of the region lies in the range, the range is empty or no whole number of samples,
 * the id is unknown or the region locked; the list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegion, trimRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = trimRegion(insertRegion(empty, { startSample: 100, endSample: 500 }), 1, 200, 9000);
 * [list.regions[0]?.startSample, list.regions[0]?.endSample]; // => [200, 500]
 */
export function trimRegion(list: RegionList, id: number, startSample: number, endSample: number): RegionList {
  const index = indexOfId('trimRegion', list, id);
  const region = unlockedAt('trimRegion', list, index);
  checkInteger('trimRegion', 'startSample', startSample);
  checkInteger('trimRegion', 'endSample', endSample, startSample + 1);
  const start = Math.max(startSample, region.startSample);
  const end = Math.min(endSample, region.endSample);
  if (start >= end) throw rangeError('trimRegion', 'range', 'must share a sample with the region', id);
  const piece = cutPiece(region, start, end);
  return spliceRegions('trimRegion', list, index, 1, [piece], list.nextId, () => 'region');
}

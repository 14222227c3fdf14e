import { checkNumber } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { firstEndingAfter, firstStartingAt } from './find-index.js';
import type { Region, RegionList } from './region.js';

/**
 * The regions that share at least one sample with [startSample, endSample), in order of time. Time: logarithmic, plus
 * the number found. An empty or reversed range has none.
 *
 * @param list a sound region list
 * @param startSample first sample of the range
 * @param endSample one past its last sample
 * @throws RangeError or TypeError where a position is not a finite number
 *
 * @example
 * import { createRegionList, insertRegion, regionsBetween } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * regionsBetween(list, 0, 101).length; // => 1
 * regionsBetween(list, 0, 100).length; // => 0
 */
export function regionsBetween(list: RegionList, startSample: number, endSample: number): readonly Region[] {
  checkListShape('regionsBetween', list);
  checkNumber('regionsBetween', 'startSample', startSample);
  checkNumber('regionsBetween', 'endSample', endSample);
  if (endSample <= startSample) return [];
  const { regions } = list;
  return regions.slice(firstEndingAfter(regions, startSample), firstStartingAt(regions, endSample));
}

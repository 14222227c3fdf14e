import { checkNumber } from '../signal/check.js';
import { firstStartingAt } from './find-index.js';
import type { Region, RegionList } from './region.js';

/**
 * The first region that starts after a position, or undefined: from a region's own start this steps to the next.
 * Time: logarithmic.
 *
 * @param list a sound region list
 * @param sample a position, in samples
 * @throws RangeError or TypeError where the position is not a finite number
 *
 * @example
 * import { createRegionList, insertRegion, nextRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * nextRegion(list, 99)?.id; // => 1
 * nextRegion(list, 100); // => undefined
 */
export function nextRegion(list: RegionList, sample: number): Region | undefined {
  checkNumber('nextRegion', 'sample', sample);
  const index = firstStartingAt(list.regions, sample);
  const region = list.regions[index];
  return region?.startSample === sample ? list.regions[index + 1] : region;
}

/**
 * The last region that starts before a position, or undefined: from a region's own start this steps to the one
 * before. Time: logarithmic.
 *
 * @param list a sound region list
 * @param sample a position, in samples
 * @throws RangeError or TypeError where the position is not a finite number
 *
 * @example
 * import { createRegionList, insertRegion, previousRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * previousRegion(list, 101)?.id; // => 1
 * previousRegion(list, 100); // => undefined
 */
export function previousRegion(list: RegionList, sample: number): Region | undefined {
  checkNumber('previousRegion', 'sample', sample);
  return list.regions[firstStartingAt(list.regions, sample) - 1];
}

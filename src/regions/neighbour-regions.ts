import { checkNumber } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { firstStartingAt } from './find-index.js';
import type { Region, RegionList } from './region.js';
import { type RegionCriteria, regionMatcher } from './region-criteria.js';

/**
 * The first region that starts after a position, or undefined: from a region's own start this steps to the next.
 * Time: logarithmic, and linear in the regions that the criteria pass over.
 *
 * @param list a sound region list
 * @param sample a position, in samples
 * @param criteria which regions to stop at; all unless given
 * @throws RangeError or TypeError where the position is not a finite number or a condition not as stated
 *
 * @example
 * import { createRegionList, insertRegion, nextRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * nextRegion(list, 99)?.id; // => 1
 * nextRegion(list, 100); // => undefined
 * nextRegion(list, 0, { kinds: ['breath'] }); // => undefined
 */
export function nextRegion(
  list: RegionList,
  sample: number,
  criteria: RegionCriteria = {},
): Region | undefined {
  return firstAfter('nextRegion', list, sample, criteria);
}

/** The same for another function, whose name the messages then carry. */
export function firstAfter(
  functionName: string,
  list: RegionList,
  sample: number,
  criteria: RegionCriteria,
): Region | undefined {
  checkListShape(functionName, list);
  checkNumber(functionName, 'sample', sample);
  const matches = regionMatcher(functionName, criteria);
  const { regions } = list;
  let index = firstStartingAt(regions, sample);
  if (regions[index]?.startSample === sample) index++;
  for (; index < regions.length; index++) if (matches(regions[index] as Region)) return regions[index];
  return undefined;
}

/**
 * The last region that starts before a position, or undefined: from a region's own start this steps to the one
 * before. Time: logarithmic, and linear in the regions that the criteria pass over.
 *
 * @param list a sound region list
 * @param sample a position, in samples
 * @param criteria which regions to stop at; all unless given
 * @throws RangeError or TypeError where the position is not a finite number or a condition not as stated
 *
 * @example
 * import { createRegionList, insertRegion, previousRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * previousRegion(list, 101)?.id; // => 1
 * previousRegion(list, 100); // => undefined
 * previousRegion(list, 101, { locked: true }); // => undefined
 */
export function previousRegion(
  list: RegionList,
  sample: number,
  criteria: RegionCriteria = {},
): Region | undefined {
  return lastBefore('previousRegion', list, sample, criteria);
}

/** The same for another function, whose name the messages then carry. */
export function lastBefore(
  functionName: string,
  list: RegionList,
  sample: number,
  criteria: RegionCriteria,
): Region | undefined {
  checkListShape(functionName, list);
  checkNumber(functionName, 'sample', sample);
  const matches = regionMatcher(functionName, criteria);
  const { regions } = list;
  for (let index = firstStartingAt(regions, sample) - 1; index >= 0; index--)
    if (matches(regions[index] as Region)) return regions[index];
  return undefined;
}

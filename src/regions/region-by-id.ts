import { checkNumber } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import type { Region, RegionList } from './region.js';

/**
 * The region with this id, or undefined where there is none. Time: linear, since ids do not follow time; whoever
 * needs many builds a map.
 *
 * @param list a sound region list
 * @param id the id looked for
 * @throws TypeError where the list is none or the id no number; RangeError for NaN and infinities
 *
 * @example
 * import { createRegionList, insertRegion, regionById } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480 });
 * regionById(list, 1)?.endSample; // => 480
 * regionById(list, 2); // => undefined
 */
export function regionById(list: RegionList, id: number): Region | undefined {
  checkListShape('regionById', list);
  checkNumber('regionById', 'id', id);
  return list.regions.find((region) => region.id === id);
}

import { rangeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { idSet, type RegionIds } from './edit-regions.js';
import { freezeList } from './freeze-region.js';
import type { RegionList } from './region.js';

/**
 * The list without one or several of its regions. Their ids are never given again.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @throws TypeError for wrong kinds of argument; RangeError where an id is unknown or its region locked; the list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegion, removeRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = removeRegion(insertRegion(empty, { startSample: 0, endSample: 480 }), 1);
 * list.regions.length; // => 0
 * list.nextId; // => 2
 */
export function removeRegion(list: RegionList, ids: RegionIds): RegionList {
  checkListShape('removeRegion', list);
  const wanted = idSet('removeRegion', ids);
  const left = new Set(wanted);
  const regions = list.regions.filter((region) => {
    if (!left.delete(region.id)) return true;
    if (region.locked) throw rangeError('removeRegion', 'ids', 'must not name a locked region', region.id);
    return false;
  });
  for (const id of left) throw rangeError('removeRegion', 'ids', 'must be ids of regions of the list', id);
  return freezeList({ ...list, regions });
}

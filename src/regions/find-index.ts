import { rangeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import type { Region, RegionList } from './region.js';

/** Index of the first region that ends after `sample`; the number of regions where none does. Binary search. */
export function firstEndingAfter(regions: readonly Region[], sample: number): number {
  let low = 0;
  let high = regions.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((regions[middle] as Region).endSample > sample) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Index of the first region that starts at or after `sample`; the number of regions where none does. */
export function firstStartingAt(regions: readonly Region[], sample: number): number {
  let low = 0;
  let high = regions.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((regions[middle] as Region).startSample >= sample) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Index of the region with this id; throws where there is none. Linear: ids do not follow the order in time. */
export function indexOfId(functionName: string, list: RegionList, id: number): number {
  checkListShape(functionName, list);
  const { regions } = list;
  for (let i = 0; i < regions.length; i++) if ((regions[i] as Region).id === id) return i;
  throw rangeError(functionName, 'id', 'must be the id of a region of the list', id);
}

/** The region at an index, refused where it is locked. */
export function unlockedAt(functionName: string, list: RegionList, index: number): Region {
  const region = list.regions[index] as Region;
  if (region.locked) throw rangeError(functionName, 'id', 'must not be that of a locked region', region.id);
  return region;
}

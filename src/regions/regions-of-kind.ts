import { checkChoice, typeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { REGION_KINDS, type Region, type RegionKind, type RegionList } from './region.js';

/**
 * The regions of one kind or of several, in order of time.
 *
 * @param list a sound region list
 * @param kinds one kind or several; an empty array finds none
 * @throws RangeError or TypeError where a kind is not one of REGION_KINDS
 *
 * @example
 * import { createRegionList, insertRegion, regionsOfKind } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200, kind: 'breath' });
 * regionsOfKind(list, 'breath').length; // => 1
 * regionsOfKind(list, ['sibilant', 'burst']).length; // => 0
 */
export function regionsOfKind(
  list: RegionList,
  kinds: RegionKind | readonly RegionKind[],
): readonly Region[] {
  return ofKinds('regionsOfKind', list, kinds);
}

/** The same for another function, whose name the messages then carry. */
export function ofKinds(
  functionName: string,
  list: RegionList,
  kinds: RegionKind | readonly RegionKind[],
): readonly Region[] {
  checkListShape(functionName, list);
  const wanted: readonly RegionKind[] = typeof kinds === 'string' ? [kinds] : kinds;
  if (!Array.isArray(wanted))
    throw typeError(functionName, 'kinds', 'must be a kind or an array of them', kinds);
  for (const kind of wanted) checkChoice(functionName, 'kinds', kind, REGION_KINDS);
  return list.regions.filter((region) => wanted.includes(region.kind));
}

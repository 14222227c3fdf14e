import { checkListShape } from './check-list-shape.js';
import type { RegionList } from './region.js';
import { type RegionCriteria, regionMatcher } from './region-criteria.js';

/**
 * The ids of the regions that meet every condition given, in order of time: what the edits that take ids want.
 *
 * @param list a sound region list
 * @param criteria kinds, ids, time, confidence, label, lock, bypass, or a question of your own; none selects all
 * @returns the ids, frozen; an empty list of regions gives none
 * @throws RangeError or TypeError where a condition is out of range or of the wrong kind
 *
 * @example
 * import { createRegionList, insertRegions, selectRegions, setFades } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegions(empty, [
 *   { startSample: 0, endSample: 4800, kind: 'breath', locked: true },
 *   { startSample: 9600, endSample: 14400, kind: 'sibilant', confidence: 0.6 },
 *   { startSample: 24000, endSample: 28800, kind: 'sibilant', confidence: 0.9 },
 * ]);
 * selectRegions(list, { kinds: ['sibilant'], minConfidence: 0.7 }); // => [3]
 * selectRegions(list, { startSample: 4000, endSample: 9601 }); // => [1, 2]
 * const faded = setFades(list, selectRegions(list, { locked: false }), { fadeInSamples: 144 });
 * faded.regions.map((region) => region.fadeInSamples); // => [0, 144, 144]
 */
export function selectRegions(list: RegionList, criteria: RegionCriteria = {}): readonly number[] {
  checkListShape('selectRegions', list);
  const matches = regionMatcher('selectRegions', criteria);
  const ids: number[] = [];
  for (const region of list.regions) if (matches(region)) ids.push(region.id);
  return Object.freeze(ids);
}

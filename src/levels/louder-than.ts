import { checkListShape } from '../regions/check-list-shape.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkLevelTable } from './check-levels.js';
import type { LevelTable } from './region-level.js';

/**
 * The regions whose sibilance is greater than a limit, in order of time: those that stick out of the voice around them by
 * more than so many dB. Regions without a sibilance (no voice to compare with, digital silence, not in the table) are
 * not among them.
 *
 * @param list a sound region list
 * @param levels its measures; a region's own gain is not in them
 * @param sibilanceDb the limit, in dB relative to the neighbouring voice; exclusive
 * @throws RangeError or TypeError where the limit is not a finite number
 *
 * @example
 * import { regionsLouderThan } from 'lenition/levels';
 * import { createRegionList } from 'lenition/regions';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * regionsLouderThan(list, { sampleRateHz: 48000, byId: new Map(), voiceDbfs: null }, -10); // => []
 */
export function regionsLouderThan(
  list: RegionList,
  levels: LevelTable,
  sibilanceDb: number,
): readonly Region[] {
  checkListShape('regionsLouderThan', list);
  checkLevelTable('regionsLouderThan', levels);
  checkNumber('regionsLouderThan', 'sibilanceDb', sibilanceDb);
  return list.regions.filter((region) => {
    const sibilance = levels.byId.get(region.id)?.sibilanceDb ?? null;
    return sibilance !== null && sibilance > sibilanceDb;
  });
}

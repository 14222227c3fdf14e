import { checkObject } from '../signal/check.js';
import { withDefaults } from '../signal/with-defaults.js';
import { firstAfter, lastBefore } from './neighbour-regions.js';
import type { Region, RegionList } from './region.js';
import type { RegionCriteria } from './region-criteria.js';

/**
 * A region is uncertain below this confidence: the limit at which the command's table and picture put a question mark.
 * `setKind` makes the confidence 1, so one that was looked at is not stopped at again.
 */
export const DEFAULT_UNCERTAIN_CRITERIA: Readonly<Required<Pick<RegionCriteria, 'belowConfidence'>>> =
  Object.freeze({
    belowConfidence: 0.9,
  });

/**
 * The first uncertain region that starts after a position, or undefined: to listen through the doubtful ones.
 *
 * @param list a sound region list
 * @param sample a position, in samples: the start of the region looked at last
 * @param criteria `belowConfidence` moves the limit (0 to 1, exclusive); any other condition narrows the choice
 * @throws RangeError or TypeError where the position is not a finite number or a condition not as stated
 *
 * @example
 * import { createRegionList, insertRegions, nextUncertain } from 'lenition/regions';
 * const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }), [
 *   { startSample: 100, endSample: 200, confidence: 0.9 },
 *   { startSample: 300, endSample: 400, confidence: 0.5 },
 * ]);
 * nextUncertain(list, 0)?.id; // => 2
 * nextUncertain(list, 0, { belowConfidence: 0.5 }); // => undefined
 */
export function nextUncertain(
  list: RegionList,
  sample: number,
  criteria: RegionCriteria = {},
): Region | undefined {
  checkObject('nextUncertain', 'criteria', criteria);
  return firstAfter('nextUncertain', list, sample, withDefaults(DEFAULT_UNCERTAIN_CRITERIA, criteria));
}

/**
 * The last uncertain region that starts before a position, or undefined.
 *
 * @param list a sound region list
 * @param sample a position, in samples: the start of the region looked at last
 * @param criteria as for `nextUncertain`
 * @throws RangeError or TypeError where the position is not a finite number or a condition not as stated
 *
 * @example
 * import { createRegionList, insertRegions, previousUncertain } from 'lenition/regions';
 * const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }), [
 *   { startSample: 100, endSample: 200, confidence: 0.5 },
 *   { startSample: 300, endSample: 400, confidence: 0.9 },
 * ]);
 * previousUncertain(list, 480000)?.id; // => 1
 * previousUncertain(list, 100); // => undefined
 */
export function previousUncertain(
  list: RegionList,
  sample: number,
  criteria: RegionCriteria = {},
): Region | undefined {
  checkObject('previousUncertain', 'criteria', criteria);
  return lastBefore('previousUncertain', list, sample, withDefaults(DEFAULT_UNCERTAIN_CRITERIA, criteria));
}

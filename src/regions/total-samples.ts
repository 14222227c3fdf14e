import { checkArray, checkObject } from '../signal/check.js';
import type { Region } from './region.js';

/**
 * How many samples some regions of one list cover together: Σ (endSample − startSample), exact, since regions of
 * a list never overlap. 0 for no region.
 *
 * @param regions `list.regions`, or some of them
 * @throws TypeError unless it is an array of regions
 * @example
 * import { createRegionList, insertRegions, totalSamples } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegions(empty, [{ startSample: 0, endSample: 480 }, { startSample: 480, endSample: 600 }]);
 * totalSamples(list.regions); // => 600
 */
export function totalSamples(regions: readonly Region[]): number {
  checkArray('totalSamples', 'regions', regions);
  let total = 0;
  for (const region of regions as readonly Region[]) {
    checkObject('totalSamples', 'regions', region);
    total += region.endSample - region.startSample;
  }
  return total;
}

import { checkNumber } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { firstEndingAfter } from './find-index.js';
import type { Region, RegionList } from './region.js';

/**
 * The region that holds a sample (startSample <= sample < endSample), or undefined. Where two touch, the sample at
 * the border belongs to the later one. Time: logarithmic.
 *
 * @param list a sound region list
 * @param sample a position, in samples; outside the clip there is no region
 * @throws RangeError or TypeError where the position is not a finite number
 *
 * @example
 * import { createRegionList, insertRegion, regionAt } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 100, endSample: 200 });
 * regionAt(list, 199)?.id; // => 1
 * regionAt(list, 200); // => undefined
 */
export function regionAt(list: RegionList, sample: number): Region | undefined {
  checkListShape('regionAt', list);
  checkNumber('regionAt', 'sample', sample);
  const region = list.regions[firstEndingAfter(list.regions, sample)];
  return region !== undefined && region.startSample <= sample ? region : undefined;
}

import { checkListShape } from '../regions/check-list-shape.js';
import { firstEndingAfter } from '../regions/find-index.js';
import type { RegionList } from '../regions/region.js';
import { checkInteger } from '../signal/check.js';
import { regionGain, regionGainAt } from './region-gain.js';

/**
 * The amplitude factor that renderGain applies to one sample, as the same double. It is that of the whole spectrum: a
 * region with a band counts as 1 here.
 *
 * @param list - The regions of the clip.
 * @param sample - Position in samples, 0 to lengthSamples − 1.
 * @returns The factor: 1 outside regions and in those that leave the audio alone.
 * @throws RangeError or TypeError for a position that is not a whole number inside the clip.
 *
 * @example
 * import { gainAt } from 'lenition/gain';
 * const list = { sampleRateHz: 48000, lengthSamples: 300, nextId: 1, regions: [] };
 * gainAt(list, 150); // => 1
 */
export function gainAt(list: RegionList, sample: number): number {
  checkListShape('gainAt', list);
  checkInteger('gainAt', 'sample', sample, 0, list.lengthSamples - 1);
  const index = firstEndingAfter(list.regions, sample);
  const gain = regionGain(list.regions, index);
  return gain === null || sample < gain.startSample ? 1 : regionGainAt(gain, sample);
}

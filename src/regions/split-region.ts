import { checkInteger } from '../signal/check.js';
import { indexOfId, unlockedAt } from './find-index.js';
import { cutPiece } from './fit-region.js';
import type { RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';

/**
 * The list with one region cut in two that touch. The earlier piece keeps the id and the fade-in, the later
 * one gets `list.nextId` and the fade-out; there is no fade at the cut, so the sound stays the same
 * (unless the cut lies within a fade, which is then shortened to its piece). Each measured edge stays with the
 * piece that holds it and is null in the other.
 *
 * @param list a sound region list
 * @param id the region
 * @param atSample first sample of the later piece: startSample < atSample < endSample
 * @throws TypeError for wrong kinds of argument; RangeError where `atSample` does not lie inside, where the id is unknown or the region locked; the
 * list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegion, splitRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = splitRegion(insertRegion(empty, { startSample: 0, endSample: 480 }), 1, 200);
 * list.regions.map((region) => [region.id, region.startSample, region.endSample]); // => [[1, 0, 200], [2, 200, 480]]
 */
export function splitRegion(list: RegionList, id: number, atSample: number): RegionList {
  const index = indexOfId('splitRegion', list, id);
  const region = unlockedAt('splitRegion', list, index);
  checkInteger('splitRegion', 'atSample', atSample, region.startSample + 1, region.endSample - 1);
  const earlier = cutPiece({ ...region, fadeOutSamples: 0 }, region.startSample, atSample);
  const later = cutPiece({ ...region, id: list.nextId, fadeInSamples: 0 }, atSample, region.endSample);
  return spliceRegions('splitRegion', list, index, 1, [earlier, later], list.nextId + 1, () => 'region');
}

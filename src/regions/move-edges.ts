import { checkFields, checkInteger, checkObject } from '../signal/check.js';
import { indexOfId, unlockedAt } from './find-index.js';
import { withEdges } from './fit-region.js';
import type { RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';

/** New edges of a region; one that is left out stays where it is. */
export interface EdgeMove {
  /** New first sample. */
  readonly startSample?: number;
  /** New end, one past the last sample. */
  readonly endSample?: number;
}

/**
 * The list with one region's start, end or both moved. It must stay between its neighbours and may touch
 * them. Fades that no longer fit are shortened together in proportion; onset and offset stay.
 *
 * @param list a sound region list
 * @param id the region
 * @param edges new edges, in samples
 * @throws TypeError for wrong kinds of argument; RangeError where the region would overlap another, be empty or leave the clip, where the id is
 * unknown or the region locked; the list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegion, moveEdges, regionById } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480, fadeInSamples: 240, fadeOutSamples: 240 });
 * const region = regionById(moveEdges(list, 1, { endSample: 120 }), 1);
 * region?.endSample; // => 120
 * region?.fadeInSamples; // => 60
 */
export function moveEdges(list: RegionList, id: number, edges: EdgeMove): RegionList {
  const index = indexOfId('moveEdges', list, id);
  const region = unlockedAt('moveEdges', list, index);
  checkObject('moveEdges', 'edges', edges);
  checkFields('moveEdges', 'edges', edges, ['startSample', 'endSample']);
  const { startSample = region.startSample, endSample = region.endSample } = edges;
  checkInteger('moveEdges', 'startSample', startSample, 0);
  checkInteger('moveEdges', 'endSample', endSample, startSample + 1, list.lengthSamples);
  const moved = withEdges(region, startSample, endSample);
  return spliceRegions('moveEdges', list, index, 1, [moved], list.nextId, () => 'region');
}

import { editByIds, type RegionIds } from './edit-regions.js';
import type { FadeShape, RegionList } from './region.js';

/** New fades of a region; what is left out stays as it is. */
export interface Fades {
  /** Length of the fade at the start, in samples, at least 0. */
  readonly fadeInSamples?: number;
  /** Length of the fade at the end, in samples, at least 0. */
  readonly fadeOutSamples?: number;
  readonly fadeShape?: FadeShape;
}

/**
 * The list with the fades of one or several regions set. Lengths are taken as they are, never shortened: two
 * fades that do not fit into a region together are an error.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param fades lengths in samples, and the shape
 * @throws RangeError where the fades do not fit, an id is unknown or its region locked; TypeError where a value
 * is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setFades } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 4800 });
 * regionById(setFades(list, 1, { fadeInSamples: 144, fadeShape: 'linear' }), 1)?.fadeInSamples; // => 144
 */
export function setFades(list: RegionList, ids: RegionIds, fades: Fades): RegionList {
  return editByIds('setFades', list, ids, (region) => {
    const {
      fadeInSamples = region.fadeInSamples,
      fadeOutSamples = region.fadeOutSamples,
      fadeShape = region.fadeShape,
    } = fades;
    return { fadeInSamples, fadeOutSamples, fadeShape };
  });
}

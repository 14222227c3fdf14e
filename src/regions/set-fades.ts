import { checkFields, checkInteger, checkObject, typeError } from '../signal/check.js';
import { editByIds, type RegionIds } from './edit-regions.js';
import { withEdges } from './fit-region.js';
import type { FadeShape, RegionList } from './region.js';

/** New fades of a region; what is left out stays as it is. */
export interface Fades {
  /** Length of the fade at the start, in samples, at least 0. */
  readonly fadeInSamples?: number;
  /** Length of the fade at the end, in samples, at least 0. */
  readonly fadeOutSamples?: number;
  /** Shape of both fades. */
  readonly fadeShape?: FadeShape;
  /**
   * True: where two fades do not fit into their region they are shortened in the same proportion, which a selection of
   * long and short regions needs. Else that is an error.
   */
  readonly shorten?: boolean;
}

/**
 * The list with the fades of one or several regions set; of all, with the ids of `selectRegions`. Lengths are taken as
 * they are unless `shorten` is true: two fades that do not fit into a region together are an error.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param fades lengths in samples, the shape, and whether they may be shortened
 * @throws RangeError where the fades do not fit, an id is unknown or its region locked; TypeError where a value
 * is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setFades } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 4800 });
 * regionById(setFades(list, 1, { fadeInSamples: 144, fadeShape: 'linear' }), 1)?.fadeInSamples; // => 144
 * regionById(setFades(list, 1, { fadeInSamples: 9600, shorten: true }), 1)?.fadeInSamples; // => 4800
 */
export function setFades(list: RegionList, ids: RegionIds, fades: Fades): RegionList {
  checkObject('setFades', 'fades', fades);
  checkFields('setFades', 'fades', fades, ['fadeInSamples', 'fadeOutSamples', 'fadeShape', 'shorten']);
  const { shorten = false } = fades;
  if (typeof shorten !== 'boolean') throw typeError('setFades', 'shorten', 'must be a boolean', shorten);
  return editByIds('setFades', list, ids, (region) => {
    const {
      fadeInSamples = region.fadeInSamples,
      fadeOutSamples = region.fadeOutSamples,
      fadeShape = region.fadeShape,
    } = fades;
    const changed = { ...region, fadeInSamples, fadeOutSamples, fadeShape };
    if (!shorten) return changed;
    // Checked here, since shortening would make something sound of a broken length.
    checkInteger('setFades', 'fadeInSamples', fadeInSamples, 0);
    checkInteger('setFades', 'fadeOutSamples', fadeOutSamples, 0);
    return withEdges(changed, region.startSample, region.endSample);
  });
}

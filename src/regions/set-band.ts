import { typeError } from '../signal/check.js';
import { editByIds, type RegionIds } from './edit-regions.js';
import type { RegionBand, RegionList } from './region.js';

/**
 * The list with the band of one or several regions set, or taken away: with a band a region's gain works on that part
 * of the spectrum alone. Gain, fades and reason stay.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param band its ends in Hz: lowHz 0 for everything below highHz, highHz half the sample rate for everything above
 * lowHz; null for the whole spectrum, plain gain
 * @throws RangeError where the band leaves the spectrum or is narrower than LEAST_BAND_WIDTH_HZ, an id is unknown or
 * its region locked; TypeError where the band is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setBand } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 4800, gainDb: -6 });
 * const above = setBand(list, 1, { lowHz: 4000, highHz: 24000 });
 * regionById(above, 1)?.band; // => { lowHz: 4000, highHz: 24000 }
 * regionById(setBand(above, 1, null), 1)?.band; // => undefined
 */
export function setBand(list: RegionList, ids: RegionIds, band: RegionBand | null): RegionList {
  // Only null takes a band away: an undefined that came from a mistake is refused like any other wrong kind.
  if (band === undefined) throw typeError('setBand', 'band', 'must be { lowHz, highHz } or null', band);
  return editByIds('setBand', list, ids, () => ({ band: band ?? undefined }));
}

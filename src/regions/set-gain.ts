import { checkFields, checkNumber, checkObject } from '../signal/check.js';
import { editByIds, type RegionIds } from './edit-regions.js';
import { HAND_REASON } from './insert-region.js';
import { LEAST_GAIN_DB, MOST_GAIN_DB, type RegionList, type RegionReason } from './region.js';

/** How a change of gain explains itself. */
export interface ReasonOption {
  /** Replaces the reason of each region that is touched; `HAND_REASON` unless given. */
  readonly reason?: RegionReason;
}

/**
 * The list with the gain of one or several regions set.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param gainDb the gain between the fades, in dB, within LEAST_GAIN_DB to MOST_GAIN_DB; negative turns down
 * @param options the reason to be kept with it
 * @throws RangeError where the gain is out of range, an id unknown or its region locked; TypeError where the
 * gain is not a number. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setGain } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480 });
 * regionById(setGain(list, 1, -6), 1)?.gainDb; // => -6
 */
export function setGain(
  list: RegionList,
  ids: RegionIds,
  gainDb: number,
  options: ReasonOption = {},
): RegionList {
  checkNumber('setGain', 'gainDb', gainDb, LEAST_GAIN_DB, MOST_GAIN_DB);
  checkObject('setGain', 'options', options);
  checkFields('setGain', 'options', options, ['reason']);
  const { reason = HAND_REASON } = options;
  // Adding 0 makes 0 of −0, which a cut of 0 dB easily gives and nobody wants to read.
  return editByIds('setGain', list, ids, () => ({ gainDb: gainDb + 0, reason }));
}

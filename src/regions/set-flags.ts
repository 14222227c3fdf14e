import { editByIds, type RegionIds } from './edit-regions.js';
import type { RegionKind, RegionList } from './region.js';

/**
 * The list with one or several regions bypassed (heard as recorded, gain kept) or not.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param bypassed true to hear the region as recorded
 * @throws RangeError where an id is unknown or its region locked; TypeError where the value is not a boolean.
 * The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setBypassed } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480, gainDb: -6 });
 * regionById(setBypassed(list, 1, true), 1)?.bypassed; // => true
 */
export function setBypassed(list: RegionList, ids: RegionIds, bypassed: boolean): RegionList {
  return editByIds('setBypassed', list, ids, () => ({ bypassed }));
}

/**
 * The list with one or several regions locked or unlocked: the only edit that a locked region allows.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param locked true to keep the region from any edit or decision
 * @throws RangeError where an id is unknown; TypeError where the value is not a boolean. The list passed stays
 * as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setLocked } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = setLocked(insertRegion(empty, { startSample: 0, endSample: 480 }), 1, true);
 * regionById(list, 1)?.locked; // => true
 * regionById(setLocked(list, 1, false), 1)?.locked; // => false
 */
export function setLocked(list: RegionList, ids: RegionIds, locked: boolean): RegionList {
  return editByIds('setLocked', list, ids, () => ({ locked }), true);
}

/**
 * The list with the label of one or several regions set.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param label any text; empty for none
 * @throws RangeError where an id is unknown or its region locked; TypeError where the label is not a string.
 * The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setLabel } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480 });
 * regionById(setLabel(list, 1, 'last word'), 1)?.label; // => 'last word'
 */
export function setLabel(list: RegionList, ids: RegionIds, label: string): RegionList {
  return editByIds('setLabel', list, ids, () => ({ label }));
}

/**
 * The list with the kind of one or several regions set by someone who heard it: the confidence becomes 1.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param kind what the region holds
 * @throws RangeError where an id is unknown, its region locked or the kind not one of REGION_KINDS; TypeError
 * where the kind is not a string. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById, setKind } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480, kind: 'sibilant', confidence: 0.4 });
 * regionById(setKind(list, 1, 'burst'), 1)?.confidence; // => 1
 */
export function setKind(list: RegionList, ids: RegionIds, kind: RegionKind): RegionList {
  return editByIds('setKind', list, ids, () => ({ kind, confidence: 1 }));
}

import { checkInteger } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { firstEndingAfter } from './find-index.js';
import type { Region, RegionList, RegionReason } from './region.js';
import { spliceRegions } from './replace-regions.js';

/** The reason that an edit by hand leaves unless it is given another. */
export const HAND_REASON: RegionReason = Object.freeze({ rule: 'by hand', numbers: Object.freeze({}) });

/** What a new region is made from: its edges, and whatever differs from `DEFAULT_REGION`. */
export type RegionDraft = Pick<Region, 'startSample' | 'endSample'> & Partial<Omit<Region, 'id'>>;

/** Everything of a new region that its draft leaves out. */
export const DEFAULT_REGION: Readonly<Omit<Region, 'id' | 'startSample' | 'endSample'>> = Object.freeze({
  kind: 'custom',
  onsetSample: null,
  offsetSample: null,
  gainDb: 0,
  confidence: 1,
  bypassed: false,
  locked: false,
  fadeInSamples: 0,
  fadeOutSamples: 0,
  fadeShape: 'raisedCosine',
  label: '',
  reason: HAND_REASON,
});

/** A draft and the defaults as a region; an id within the draft is not used. */
export function draftToRegion(draft: RegionDraft, id: number): Region {
  return { ...DEFAULT_REGION, ...draft, id };
}

/**
 * The list with one more region. It gets the id `list.nextId` (of the list that was passed).
 *
 * @param list a sound region list
 * @param draft `startSample` and `endSample` (half-open, in samples) and any further fields; the others
 * come from `DEFAULT_REGION`
 * @throws RangeError where the region overlaps another or leaves the clip, or a field breaks a rule of
 * `checkRegionList`; TypeError where a field is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, regionById } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 4800, endSample: 9600, kind: 'sibilant', gainDb: -6 });
 * regionById(list, empty.nextId)?.gainDb; // => -6
 * list.nextId; // => 2
 */
export function insertRegion(list: RegionList, draft: RegionDraft): RegionList {
  checkListShape('insertRegion', list);
  const region = draftToRegion(draft, list.nextId);
  checkInteger('insertRegion', 'draft.startSample', region.startSample);
  const index = firstEndingAfter(list.regions, region.startSample);
  return spliceRegions('insertRegion', list, index, 0, [region], list.nextId + 1, () => 'draft');
}

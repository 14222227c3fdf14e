import { checkInteger, checkObject, rangeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { firstEndingAfter, firstStartingAt } from './find-index.js';
import { cutPiece } from './fit-region.js';
import { draftToRegion, type RegionDraft } from './insert-region.js';
import type { Region, RegionList } from './region.js';
import { spliceRegions } from './replace-regions.js';

/**
 * The list with a range marked by hand: a new region with the id `list.nextId`, of kind `custom` unless
 * `fields` says otherwise. The hand goes before what was there: a region that the range covers is removed, one that
 * it overlaps is cut back to the part outside, one that it lies within is cut in two (the earlier piece keeps
 * the id, the later one gets `list.nextId + 1`). Pieces keep their gain and their fades, shortened to fit; a
 * measured edge that was cut away becomes null. Regions that only touch the range stay as they are.
 *
 * @param list a sound region list
 * @param startSample first sample of the range
 * @param endSample one past its last sample
 * @param fields anything else of the new region that differs from `DEFAULT_REGION`
 * @throws TypeError for wrong kinds of argument; RangeError where the range is empty or leaves the clip, overlaps a locked region, or `fields` break a
 * rule; the list passed stays as it was
 *
 * @example
 * import { createRegionList, insertRegion, markRange } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480, kind: 'sibilant' });
 * markRange(list, 240, 960).regions.map((r) => [r.kind, r.startSample, r.endSample]); // => [['sibilant', 0, 240], ['custom', 240, 960]]
 */
export function markRange(
  list: RegionList,
  startSample: number,
  endSample: number,
  fields: Omit<RegionDraft, 'startSample' | 'endSample'> = {},
): RegionList {
  checkListShape('markRange', list);
  checkObject('markRange', 'fields', fields);
  checkInteger('markRange', 'startSample', startSample, 0);
  checkInteger('markRange', 'endSample', endSample, startSample + 1, list.lengthSamples);
  const first = firstEndingAfter(list.regions, startSample);
  const past = Math.max(first, firstStartingAt(list.regions, endSample));
  for (let i = first; i < past; i++) {
    const { id, locked } = list.regions[i] as Region;
    if (locked) throw rangeError('markRange', 'range', 'must not overlap a locked region', id);
  }
  let nextId = list.nextId;
  const marked = draftToRegion({ ...fields, startSample, endSample }, nextId++);
  const pieces: Region[] = [marked];
  if (past > first) {
    const earliest = list.regions[first] as Region;
    const latest = list.regions[past - 1] as Region;
    const headStays = earliest.startSample < startSample;
    if (headStays) pieces.unshift(cutPiece(earliest, earliest.startSample, startSample));
    if (latest.endSample > endSample) {
      const tail = cutPiece(latest, endSample, latest.endSample);
      pieces.push(headStays && latest === earliest ? { ...tail, id: nextId++ } : tail);
    }
  }
  return spliceRegions('markRange', list, first, past - first, pieces, nextId, (i) =>
    pieces[i] === marked ? 'fields' : 'region',
  );
}

import { checkArray, checkInteger } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { freezeList } from './freeze-region.js';
import { draftToRegion, type RegionDraft } from './insert-region.js';
import type { Region, RegionList } from './region.js';
import { checkOrder, soundRegion } from './replace-regions.js';

/**
 * The list with many more regions, all or none: what a detector uses. Ids run from `list.nextId` on in the
 * order of the drafts, which need not be ordered in time. Time: n + m·log m for m drafts into n regions.
 *
 * @param list a sound region list
 * @param drafts as for `insertRegion`; none of them gives an equal list
 * @throws as `insertRegion`; the message names the draft by its index
 *
 * @example
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegions(empty, [
 *   { startSample: 9600, endSample: 12000, kind: 'burst' },
 *   { startSample: 2400, endSample: 7200, kind: 'sibilant' },
 * ]);
 * list.regions.map((region) => region.kind); // => ['sibilant', 'burst']
 * list.regions.map((region) => region.id); // => [2, 1]
 */
export function insertRegions(list: RegionList, drafts: readonly RegionDraft[]): RegionList {
  checkListShape('insertRegions', list);
  checkArray('insertRegions', 'drafts', drafts);
  const nextId = list.nextId + drafts.length;
  checkInteger('insertRegions', 'list.nextId', nextId, 1);
  // Not map: it would pass over the holes of a sparse array.
  const added = Array.from(drafts as readonly RegionDraft[], (draft, i) => {
    const region = draftToRegion(draft, list.nextId + i);
    return soundRegion('insertRegions', region, list, nextId, `drafts[${i}]`);
  }).sort((a, b) => a.startSample - b.startSample);
  const old = list.regions;
  const regions: Region[] = [];
  let o = 0;
  let a = 0;
  while (o < old.length || a < added.length) {
    const takeOld =
      a >= added.length || (o < old.length && startsFirst(old[o] as Region, added[a] as Region));
    const next = (takeOld ? old[o++] : added[a++]) as Region;
    checkOrder('insertRegions', regions[regions.length - 1], next, !takeOld);
    regions.push(next);
  }
  return freezeList({ ...list, nextId, regions });
}

function startsFirst(a: Region, b: Region): boolean {
  return a.startSample <= b.startSample;
}

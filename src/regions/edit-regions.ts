import { rangeError, typeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { freezeList } from './freeze-region.js';
import type { Region, RegionBand, RegionList } from './region.js';
import { checkOrder, soundRegion } from './replace-regions.js';

/** One id or several; the same id twice counts once. */
export type RegionIds = number | readonly number[];

/**
 * New values for some fields of a region; `band: undefined` takes the band away. The id never changes; the lock
 * only by `setLocked`.
 */
export type RegionChange = Partial<Omit<Region, 'id' | 'locked' | 'band'>> & {
  /** Part of the spectrum; undefined takes it away. */
  readonly band?: RegionBand | undefined;
};

type AnyChange = RegionChange & Partial<Pick<Region, 'locked'>>;

/**
 * The list after a change to each of its unlocked regions, in one pass: what a gain decision uses. Locked
 * regions are passed over. Edges may move as long as the order stays and nothing overlaps in the end.
 *
 * @param list a sound region list
 * @param decide called with each unlocked region and its index, in order of time; returns the fields that
 * change, or undefined for none
 * @throws RangeError or TypeError where the result would break a rule of `checkRegionList`; the list passed
 * stays as it was
 *
 * @example
 * import { createRegionList, editRegions, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegions(empty, [
 *   { startSample: 0, endSample: 480, kind: 'breath' },
 *   { startSample: 480, endSample: 960, kind: 'sibilant' },
 * ]);
 * const cut = editRegions(list, (region) => (region.kind === 'sibilant' ? { gainDb: -6 } : undefined));
 * cut.regions.map((region) => region.gainDb); // => [0, -6]
 */
export function editRegions(
  list: RegionList,
  decide: (region: Region, index: number) => RegionChange | undefined,
): RegionList {
  if (typeof decide !== 'function') throw typeError('editRegions', 'decide', 'must be a function', decide);
  return applyChanges('editRegions', list, (region, index) =>
    region.locked ? undefined : decide(region, index),
  );
}

/** The same change for each id; throws at an unknown id, and at a locked region unless told to touch it. */
export function editByIds(
  functionName: string,
  list: RegionList,
  ids: RegionIds,
  change: (region: Region) => AnyChange,
  touchLocked: boolean = false,
): RegionList {
  const wanted = idSet(functionName, ids);
  const left = new Set(wanted);
  const edited = applyChanges(functionName, list, (region) => {
    if (!wanted.has(region.id)) return undefined;
    left.delete(region.id);
    if (region.locked && !touchLocked)
      throw rangeError(functionName, 'ids', 'must not name a locked region', region.id);
    return change(region);
  });
  for (const id of left) throw rangeError(functionName, 'ids', 'must be ids of regions of the list', id);
  return edited;
}

/** The ids asked for, each once. */
export function idSet(functionName: string, ids: RegionIds): ReadonlySet<number> {
  if (typeof ids === 'number') return new Set([ids]);
  // new Set(undefined) would be an empty set: an edit that silently does nothing.
  if (!Array.isArray(ids)) throw typeError(functionName, 'ids', 'must be a number or an array of them', ids);
  return new Set(ids);
}

function applyChanges(
  functionName: string,
  list: RegionList,
  decide: (region: Region, index: number) => AnyChange | undefined,
): RegionList {
  checkListShape(functionName, list);
  const { regions: old, nextId } = list;
  const regions: Region[] = new Array(old.length);
  for (let i = 0; i < old.length; i++) {
    const region = old[i] as Region;
    const change = decide(region, i);
    regions[i] =
      change === undefined
        ? region
        : soundRegion(functionName, { ...region, ...change, id: region.id }, list, nextId, 'region');
    // Untouched neighbours are known to be in order.
    if (change !== undefined || regions[i - 1] !== old[i - 1])
      checkOrder(functionName, regions[i - 1], regions[i], change !== undefined);
  }
  return freezeList({ ...list, regions });
}

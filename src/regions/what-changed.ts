import { checkListShape } from './check-list-shape.js';
import type { Region, RegionList } from './region.js';

/** A region that is in both lists, and the fields in which it differs. */
export interface ChangedRegion {
  /** Id of the region in both lists. */
  readonly id: number;
  /** Names of the fields that differ. */
  readonly fields: readonly (keyof Region)[];
}

/** What tells one list from an earlier one. Ids are in order of time. */
export interface ListChanges {
  /** Ids that only the later list has. */
  readonly added: readonly number[];
  /** Ids that only the earlier list has. */
  readonly removed: readonly number[];
  /** Those that both lists have and that differ. */
  readonly changed: readonly ChangedRegion[];
  /** Fields of the list itself that differ: rate, length, nextId. */
  readonly clip: readonly Exclude<keyof RegionList, 'regions'>[];
}

/**
 * What changed from one list to another: ids that came and went, and the fields of those that stayed. Regions are told
 * apart by id alone. Time: linear, and next to nothing for the regions that both lists share.
 *
 * @param before the earlier list
 * @param after the later list
 * @returns frozen; equal lists give four empty arrays
 *
 * @throws TypeError unless both are region lists
 * @example
 * import { createRegionList, insertRegion, setGain, whatChanged } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const before = insertRegion(empty, { startSample: 0, endSample: 480 });
 * const after = insertRegion(setGain(before, 1, -6), { startSample: 960, endSample: 1440 });
 * whatChanged(before, after);
 * // => { added: [2], removed: [], changed: [{ id: 1, fields: ['gainDb'] }], clip: ['nextId'] }
 */
export function whatChanged(before: RegionList, after: RegionList): ListChanges {
  checkListShape('whatChanged', before, 'before');
  checkListShape('whatChanged', after, 'after');
  const { was, is } = touchedRegions(before.regions, after.regions);
  const earlier = new Map(was.map((region) => [region.id, region]));
  const added: number[] = [];
  const changed: ChangedRegion[] = [];
  for (const region of is) {
    const old = earlier.get(region.id);
    if (old === undefined) added.push(region.id);
    else changed.push(Object.freeze({ id: region.id, fields: Object.freeze(changedFields(old, region)) }));
    earlier.delete(region.id);
  }
  return Object.freeze({
    added: Object.freeze(added),
    removed: Object.freeze([...earlier.keys()]),
    changed: Object.freeze(changed),
    clip: Object.freeze(CLIP_FIELDS.filter((field) => before[field] !== after[field])),
  });
}

const CLIP_FIELDS = Object.freeze(['sampleRateHz', 'lengthSamples', 'nextId'] as const);

/** The regions in which two lists differ: as they were, and as they are; both in order of time. All of the latter lie from `from` up to `to`. */
export function touchedRegions(
  before: readonly Region[],
  after: readonly Region[],
): {
  readonly was: readonly Region[];
  readonly is: readonly Region[];
  readonly from: number;
  readonly to: number;
} {
  // Edits share what they leave alone, so most of two lists is told by reference, from either end.
  let start = 0;
  while (start < before.length && start < after.length && before[start] === after[start]) start++;
  let fromEnd = 0;
  const most = Math.min(before.length, after.length) - start;
  while (fromEnd < most && before[before.length - 1 - fromEnd] === after[after.length - 1 - fromEnd])
    fromEnd++;
  const was = before.slice(start, before.length - fromEnd);
  const is = after.slice(start, after.length - fromEnd);
  const later = new Map(is.map((region) => [region.id, region]));
  const same = new Set<number>();
  for (const region of was) {
    const now = later.get(region.id);
    if (now !== undefined && changedFields(region, now).length === 0) same.add(region.id);
  }
  return {
    was: was.filter((region) => !same.has(region.id)),
    is: is.filter((region) => !same.has(region.id)),
    from: start,
    to: after.length - fromEnd,
  };
}

function changedFields(a: Region, b: Region): (keyof Region)[] {
  if (a === b) return [];
  const names = new Set([...Object.keys(a), ...Object.keys(b)]) as Set<keyof Region>;
  return [...names].filter((name) => !isSame(a[name], b[name]));
}

/** Equal in value: the nested values of a region, its reason and band, are plain objects of plain values. */
function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const [names, others] = [Object.keys(a), Object.keys(b)];
  return (
    names.length === others.length &&
    names.every((name) => Object.hasOwn(b, name) && isSame(field(a, name), field(b, name)))
  );
}

function field(value: object, name: string): unknown {
  return (value as Readonly<Record<string, unknown>>)[name];
}

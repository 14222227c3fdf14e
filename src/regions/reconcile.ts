import { checkNumber, rangeError, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { type RegionEdges, settleEdges } from './carried-edges.js';
import { checkListShape } from './check-list-shape.js';
import { withEdges } from './fit-region.js';
import { freezeList } from './freeze-region.js';
import { type HandField, handFields, withHandFields } from './hand-edits.js';
import { matchRegions } from './match-regions.js';
import type { Region, RegionList } from './region.js';
import { soundRegion } from './replace-regions.js';

/** How an edited list is brought together with new finds. */
export interface ReconcileOptions {
  /** Least share of what an old region and a find cover together that both cover, above 0 to 1. */
  readonly minOverlap?: number;
  /** True: a hand edit that nothing new matches stays where it was, if it does not collide. */
  readonly keepUnmatched?: boolean;
}

/**
 * A quarter: an s of 100 ms may come up to 60 ms early or late and is still the same one (1 − d/L over 1 + d/L at
 * d = 0.6 L; our own choice). Unmatched edits are not kept, since their sound is not there any more.
 */
export const DEFAULT_RECONCILE_OPTIONS: Readonly<Required<ReconcileOptions>> = Object.freeze({
  minOverlap: 0.25,
  keepUnmatched: false,
});

/** An old region that is still there, under its old id. */
export interface KeptRegion {
  /** Id in the old list and in the reconciled one. */
  readonly id: number;
  /** Id of the find that it was matched with, in the new list; null where it was kept without one. */
  readonly foundId: number | null;
  /** What was carried over from the old list; empty where nothing had been decided. */
  readonly fields: readonly HandField[];
}

/** A find that was not there before. */
export interface AddedRegion {
  /** Its id in the reconciled list, never given before. */
  readonly id: number;
  /** Its id in the new list. */
  readonly foundId: number;
}

/** Something that did not come through. */
export interface LostEdit {
  /** Id in the old list; null for a new find that gave way to a locked region. */
  readonly id: number | null;
  /** Id in the new list, or null. */
  readonly foundId: number | null;
  /** The hand edits that are lost; empty where nothing had been decided. */
  readonly fields: readonly HandField[];
  /**
   * `notFound`: nothing new matches; the region is gone. `collides`: its place, or with a match its old edges, would
   * overlap another region. `outside`: it does not fit into the new clip. `covered`: a locked region is there.
   */
  readonly reason: 'notFound' | 'collides' | 'outside' | 'covered';
}

/** A reconciled list and what became of every region; each report is in order of time. */
export interface Reconciled {
  /** The reconciled list. */
  readonly list: RegionList;
  /** Old regions that are still there. */
  readonly kept: readonly KeptRegion[];
  /** Finds that were not there before. */
  readonly added: readonly AddedRegion[];
  /** What did not come through, and why. */
  readonly lost: readonly LostEdit[];
}

/**
 * An edited list brought together with a new one: for a take that was recorded again or searched with other settings.
 * What was decided by hand (gain, band, fades, edges, bypass, lock, label, kind) goes on to the find that it fits; finds
 * without a match come in untouched; the rest is reported.
 *
 * Old regions and finds are matched one to one by kind and overlap. A match keeps the old id and takes what is measured
 * (onset, offset, confidence, and every field that nobody had changed) from the find. An edge that had been moved keeps
 * its distance from the measured one; where that would overlap another region, the find's edges stand. A locked region
 * stays exactly as it is, and finds in its way are dropped. A list that had no edits takes on the finds alone.
 *
 * Whether a field was changed is told by what a detector leaves: no gain, no fades, edges as measured. A gain that was
 * set to 0 dB by hand is therefore not known to be one.
 *
 * @param oldList the edited list. Where the take was moved, move it first with `shiftRegions`.
 * @param newList the new finds, of the same sample rate; its length becomes the length of the result
 * @param options least overlap, and whether to keep what is not matched
 * @returns the list and the report. New ids run from `oldList.nextId` on, so none is ever given twice.
 * @throws RangeError where the sample rates differ or an option is out of range; TypeError where one is of the wrong kind
 *
 * @example
 * import { createRegionList, insertRegions, reconcile, setGain } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const found = (...starts: number[]) =>
 *   insertRegions(empty, starts.map((at) => ({
 *     kind: 'sibilant' as const, confidence: 0.9, startSample: at, endSample: at + 4800, onsetSample: at, offsetSample: at + 4800,
 *   })));
 * const edited = setGain(found(10000, 90000), [1, 2], -6);
 * const { list, lost } = reconcile(edited, found(10500, 200000));
 * list.regions.map((r) => [r.id, r.startSample, r.gainDb]); // => [[1, 10500, -6], [3, 200000, 0]]
 * lost; // => [{ id: 2, foundId: null, fields: ['gainDb'], reason: 'notFound' }]
 */
export function reconcile(
  oldList: RegionList,
  newList: RegionList,
  options: ReconcileOptions = {},
): Reconciled {
  checkListShape('reconcile', oldList, 'oldList');
  checkListShape('reconcile', newList, 'newList');
  const { minOverlap, keepUnmatched } = checkedOptions('reconcile', DEFAULT_RECONCILE_OPTIONS, options);
  checkNumber('reconcile', 'minOverlap', minOverlap, Number.MIN_VALUE, 1);
  if (typeof keepUnmatched !== 'boolean')
    throw typeError('reconcile', 'keepUnmatched', 'must be a boolean', keepUnmatched);
  if (newList.sampleRateHz !== oldList.sampleRateHz)
    throw rangeError(
      'reconcile',
      'newList.sampleRateHz',
      `must equal that of oldList (${oldList.sampleRateHz})`,
      newList.sampleRateHz,
    );
  const length = newList.lengthSamples;
  const lost: Loss[] = [];
  const { places, unmatched } = layOut(oldList.regions, newList.regions, length, minOverlap, lost);
  carryOver(places, length, lost);
  keepOrLose(places, unmatched, length, keepUnmatched, lost);
  return build(oldList, newList, places, lost);
}

/** A region of the result: from an old one, from a find, or from both. */
interface Place {
  region: Region;
  readonly old: Region | null;
  readonly find: Region | null;
  fields: readonly HandField[];
}

interface Loss {
  readonly at: number;
  readonly edit: LostEdit;
}

/** Locked regions where they are and finds where they are, in order; and the old regions that neither placed. */
function layOut(
  old: readonly Region[],
  finds: readonly Region[],
  length: number,
  minOverlap: number,
  lost: Loss[],
): { places: Place[]; unmatched: Region[] } {
  const pairs = matchRegions(old, finds, minOverlap);
  const oldOf = new Map([...pairs].map(([o, f]) => [finds[f] as Region, old[o] as Region]));
  const findOf = new Map([...oldOf].map(([find, region]) => [region, find]));
  const locked = old.filter((region) => region.locked && fitsInto(region, length));
  const places: Place[] = locked.map((region) => ({
    region,
    old: region,
    find: findOf.get(region) ?? null,
    fields: handFields(region),
  }));
  const placed = new Set<Region>(locked);
  let l = 0;
  for (const find of finds) {
    const partner = oldOf.get(find) ?? null;
    if (partner !== null && placed.has(partner)) continue;
    while (l < locked.length && (locked[l] as Region).endSample <= find.startSample) l++;
    if (l < locked.length && (locked[l] as Region).startSample < find.endSample) {
      lose(lost, null, find, [], 'covered');
      continue;
    }
    // A locked region that does not fit into the clip must not come back unlocked as a find.
    const keeps = partner !== null && !partner.locked ? partner : null;
    if (keeps !== null) placed.add(keeps);
    places.push({ region: find, old: keeps, find, fields: keeps === null ? [] : handFields(keeps) });
  }
  places.sort((a, b) => a.region.startSample - b.region.startSample);
  return { places, unmatched: old.filter((region) => !placed.has(region)) };
}

/** Gives each matched find what was decided about it; edges only where they leave the neighbours alone. */
function carryOver(places: Place[], length: number, lost: Loss[]): void {
  const { edges, reverted } = settleEdges(places, length);
  for (const [i, place] of places.entries()) {
    const { old, find, fields } = place;
    if (old === null || find === null || old.locked) continue;
    const { start, end } = edges[i] as RegionEdges;
    place.region = withEdges(withHandFields(find, old, fields), start, end);
    const wanted = reverted.get(i);
    if (wanted === undefined) continue;
    const isEdge = (field: HandField): boolean => field === 'startSample' || field === 'endSample';
    const isOutside = wanted.start < 0 || wanted.end > length;
    lose(lost, old, find, fields.filter(isEdge), isOutside ? 'outside' : 'collides');
    place.fields = fields.filter((field) => !isEdge(field));
  }
}

/** What nothing new matches: put back where there is room, if that is wanted, else reported. */
function keepOrLose(
  places: Place[],
  unmatched: readonly Region[],
  length: number,
  keepUnmatched: boolean,
  lost: Loss[],
): void {
  const kept: Place[] = [];
  let p = 0;
  for (const region of unmatched) {
    const fields = handFields(region);
    while (p < places.length && (places[p] as Place).region.endSample <= region.startSample) p++;
    const next = places[p]?.region;
    if (!fitsInto(region, length)) lose(lost, region, null, fields, 'outside');
    else if (!keepUnmatched || fields.length === 0) lose(lost, region, null, fields, 'notFound');
    else if (next !== undefined && next.startSample < region.endSample)
      lose(lost, region, null, fields, 'collides');
    else kept.push({ region, old: region, find: null, fields });
  }
  places.push(...kept);
  places.sort((a, b) => a.region.startSample - b.region.startSample);
}

function build(oldList: RegionList, newList: RegionList, places: readonly Place[], lost: Loss[]): Reconciled {
  let { nextId } = oldList;
  const kept: KeptRegion[] = [];
  const added: AddedRegion[] = [];
  const clip = { ...newList, nextId: nextId + places.length };
  const regions = places.map(({ region, old, find, fields }) => {
    const foundId = find?.id ?? null;
    const id = old === null ? nextId++ : old.id;
    if (old === null) added.push(Object.freeze({ id, foundId: foundId as number }));
    else kept.push(Object.freeze({ id, foundId, fields: Object.freeze([...fields]) }));
    return region === old ? region : soundRegion('reconcile', { ...region, id }, clip, clip.nextId, 'region');
  });
  lost.sort((a, b) => a.at - b.at);
  return Object.freeze({
    list: freezeList({ ...newList, nextId, regions }),
    kept: Object.freeze(kept),
    added: Object.freeze(added),
    lost: Object.freeze(lost.map(({ edit }) => edit)),
  });
}

function fitsInto(region: Region, length: number): boolean {
  return Math.max(region.endSample, region.onsetSample ?? 0, region.offsetSample ?? 0) <= length;
}

function lose(
  lost: Loss[],
  old: Region | null,
  find: Region | null,
  fields: readonly HandField[],
  reason: LostEdit['reason'],
): void {
  const edit = Object.freeze({
    id: old?.id ?? null,
    foundId: find?.id ?? null,
    fields: Object.freeze([...fields]),
    reason,
  });
  lost.push({ at: (old ?? find)?.startSample ?? 0, edit });
}

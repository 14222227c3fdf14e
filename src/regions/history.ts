import { checkArray, checkInteger, checkObject, rangeError, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { checkListShape } from './check-list-shape.js';
import { assertRegionList } from './check-region-list.js';
import { freezeList, freezeRegion } from './freeze-region.js';
import type { Region, RegionList } from './region.js';
import { visitListBreaches } from './region-rules.js';
import { checkOrder } from './replace-regions.js';
import { type ListChanges, touchedRegions, whatChanged } from './what-changed.js';

/** Most edits that any history may keep. */
export const MOST_EDITS = 1000;

/** Settings of startHistory. */
export interface HistoryOptions {
  /** Edits that can be undone, 1 to MOST_EDITS; the oldest ones are forgotten. */
  readonly maxEdits?: number;
}

/** 200 edits: more than an evening's work on one vocal, and little to keep, since an edit holds only what it touched. */
export const DEFAULT_HISTORY_OPTIONS: Readonly<Required<HistoryOptions>> = Object.freeze({ maxEdits: 200 });

/** One edit. Both lists hold only the regions that it touched, beside the rate, length and nextId of the whole. */
export interface RecordedEdit {
  /** What to call it in an undo menu. */
  readonly label: string;
  /** As it was: the touched regions alone. */
  readonly before: RegionList;
  /** As it became: the touched regions alone. */
  readonly after: RegionList;
}

/** A region list and the way it came about: a value, never changed. */
export interface EditHistory {
  /** What undo takes back, the latest last. */
  readonly past: readonly RecordedEdit[];
  /** The list as it is now. */
  readonly present: RegionList;
  /** What redo brings back, the next one last. */
  readonly future: readonly RecordedEdit[];
  /** How many edits are kept. */
  readonly maxEdits: number;
}

/**
 * A history that begins with a list.
 *
 * @param list a region list; it is checked, and copied unless it is frozen, as every list of this library is
 * @param options how many edits are kept
 * @throws RangeError or TypeError where the list breaks a rule of `checkRegionList` or the number is out of range
 *
 * @example
 * import { createRegionList, insertRegion, recordEdit, redo, startHistory, undo } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const first = startHistory(empty);
 * const edited = recordEdit(first, insertRegion(empty, { startSample: 0, endSample: 480 }), 'mark a word');
 * undo(edited).present.regions.length; // => 0
 * redo(undo(edited)).present.regions.length; // => 1
 */
export function startHistory(list: RegionList, options: HistoryOptions = {}): EditHistory {
  const { maxEdits } = checkedOptions('startHistory', DEFAULT_HISTORY_OPTIONS, options);
  assertRegionList('startHistory', list);
  checkInteger('startHistory', 'maxEdits', maxEdits, 1, MOST_EDITS);
  return freezeHistory([], ownList(list), [], maxEdits);
}

/**
 * The history after an edit: `list` is the present, and undo leads back to what was present. What had been undone can no
 * longer be redone. Only the regions that differ are kept, however long the list.
 *
 * @param history the history before the edit
 * @param list the list after it; it need not come from the present one, and is copied unless it is frozen
 * @param label what to call the edit
 * @returns a new history, or the same one where nothing differs. A `nextId` below that of the present is raised to it, so
 * that a list from a file does not give ids a second time. An id of an edit that was undone may be given again by the
 * edit that takes its place: tables by id are to be made anew then.
 * @throws RangeError or TypeError where a region that differs breaks a rule of `checkRegionList`; TypeError where the label
 * is not a string. The history passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, recordEdit, setGain, startHistory } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480 });
 * const history = recordEdit(startHistory(list), setGain(list, 1, -6), 'cut by 6 dB');
 * history.past.map((edit) => edit.label); // => ['cut by 6 dB']
 * recordEdit(history, history.present, 'nothing') === history; // => true
 */
export function recordEdit(history: EditHistory, list: RegionList, label: string): EditHistory {
  if (typeof label !== 'string') throw typeError('recordEdit', 'label', 'must be a string', label);
  checkHistory('recordEdit', history);
  checkListShape('recordEdit', list);
  const { past, present, maxEdits } = history;
  const next = list.nextId < present.nextId ? { ...list, nextId: present.nextId } : list;
  const hole = next.regions.findIndex((region) => typeof region !== 'object' || region === null);
  if (hole >= 0)
    throw typeError('recordEdit', `list.regions[${hole}]`, 'must be an object', next.regions[hole]);
  const { was, is, from, to } = touchedRegions(present.regions, next.regions);
  const before = freezeList({ ...present, regions: was });
  const changed = { ...next, regions: is };
  visitListBreaches(changed, 'changed', (path, rule, received, wrongKind) => {
    throw (wrongKind ? typeError : rangeError)('recordEdit', path, rule, received);
  });
  const { clip } = whatChanged(before, changed);
  if (clip.length === 0 && was.length === 0 && is.length === 0) return history;
  // Another clip holds for every region; within the same one what was sound stays so beside what was touched.
  if (clip.some((field) => field !== 'nextId')) assertRegionList('recordEdit', next);
  else checkTouched(next.regions, from, to, was);
  const edit = Object.freeze({ label, before, after: ownList(changed) });
  return freezeHistory([...past, edit].slice(-maxEdits), ownList(next), [], maxEdits);
}

/** The list itself where nothing of it can be changed, else a frozen copy: a history is a value, whatever becomes of what it was given. */
function ownList(list: RegionList): RegionList {
  const { regions } = list;
  if (Object.isFrozen(list) && Object.isFrozen(regions) && regions.every(Object.isFrozen)) return list;
  return freezeList({
    ...list,
    regions: regions.map((region) => (Object.isFrozen(region) ? region : freezeRegion(region))),
  });
}

/** Throws where regions from `from` up to `to` overlap one another or those beside them, or take an id of another. */
function checkTouched(regions: readonly Region[], from: number, to: number, was: readonly Region[]): void {
  for (let i = Math.max(1, from); i < Math.min(to + 1, regions.length); i++)
    checkOrder('recordEdit', regions[i - 1], regions[i], i < to);
  const touched = regions.slice(from, to);
  const added = new Set<number>();
  const seen = (id: number): void => {
    if (added.has(id)) throw rangeError('recordEdit', 'list.regions', 'must have an id each', id);
  };
  for (const { id } of touched) {
    seen(id);
    added.add(id);
  }
  // An id that was there before stands nowhere else.
  for (const { id } of was) added.delete(id);
  if (added.size === 0) return;
  for (let i = 0; i < regions.length; i++) if (i < from || i >= to) seen((regions[i] as Region).id);
}

/**
 * The history one edit back; the same history where there is none to take back. The list is then what it was before the
 * edit, exactly, `nextId` included.
 *
 * @param history any history
 * @throws TypeError unless it is a history
 * @example
 * import { createRegionList, startHistory, undo } from 'lenition/regions';
 * const history = startHistory(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }));
 * undo(history) === history; // => true
 */
export function undo(history: EditHistory): EditHistory {
  checkHistory('undo', history);
  const { past, present, future, maxEdits } = history;
  const edit = past[past.length - 1];
  if (edit === undefined) return history;
  const list = exchangeRegions(present, edit.after, edit.before);
  return freezeHistory(past.slice(0, -1), list, [...future, edit], maxEdits);
}

/**
 * The history one undone edit on; the same history where there is none to bring back.
 *
 * @param history any history
 * @throws TypeError unless it is a history
 * @example
 * import { createRegionList, redo, startHistory } from 'lenition/regions';
 * const history = startHistory(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }));
 * redo(history) === history; // => true
 */
export function redo(history: EditHistory): EditHistory {
  checkHistory('redo', history);
  const { past, present, future, maxEdits } = history;
  const edit = future[future.length - 1];
  if (edit === undefined) return history;
  const list = exchangeRegions(present, edit.before, edit.after);
  return freezeHistory([...past, edit], list, future.slice(0, -1), maxEdits);
}

/** An edit by name, and what it changed. */
export interface EditSummary {
  /** What to call it in an undo menu. */
  readonly label: string;
  /** What it did to the list. */
  readonly changes: ListChanges;
}

/** Throws unless `history` has the shape of one; looks into no edit. */
export function checkHistory(functionName: string, history: EditHistory): void {
  checkObject(functionName, 'history', history);
  checkArray(functionName, 'history.past', history.past);
  checkArray(functionName, 'history.future', history.future);
  checkListShape(functionName, history.present, 'history.present');
}

/**
 * What the latest edit did (the one that undo would take back), or undefined where there is none.
 *
 * @param history any history; any other edit of it is told by `whatChanged(edit.before, edit.after)`
 * @throws TypeError unless it is a history
 * @example
 * import { createRegionList, insertRegion, lastEdit, recordEdit, setGain, startHistory } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 0, endSample: 480 });
 * const history = recordEdit(startHistory(list), setGain(list, 1, -6), 'cut by 6 dB');
 * lastEdit(history)?.label; // => 'cut by 6 dB'
 * lastEdit(history)?.changes.changed; // => [{ id: 1, fields: ['gainDb'] }]
 */
export function lastEdit(history: EditHistory): EditSummary | undefined {
  checkHistory('lastEdit', history);
  const edit = history.past[history.past.length - 1];
  if (edit === undefined) return undefined;
  return Object.freeze({ label: edit.label, changes: whatChanged(edit.before, edit.after) });
}

function exchangeRegions(list: RegionList, from: RegionList, to: RegionList): RegionList {
  return freezeList({ ...to, regions: exchangedRegions(list.regions, from.regions, to.regions) });
}

/**
 * Regions with the touched ones of one side of an edit in place of those of the other. Those of `from` are all in the
 * list and in the same order, so one walk finds them.
 */
export function exchangedRegions(
  list: readonly Region[],
  from: readonly Region[],
  to: readonly Region[],
): Region[] {
  const regions: Region[] = new Array(list.length - from.length + to.length);
  let n = 0;
  let f = 0;
  let t = 0;
  for (const region of list) {
    if (region.id === from[f]?.id) {
      f++;
      continue;
    }
    while (t < to.length && (to[t] as Region).startSample < region.startSample)
      regions[n++] = to[t++] as Region;
    regions[n++] = region;
  }
  while (t < to.length) regions[n++] = to[t++] as Region;
  return regions;
}

/** A frozen history; takes the arrays over. */
export function freezeHistory(
  past: readonly RecordedEdit[],
  present: RegionList,
  future: readonly RecordedEdit[],
  maxEdits: number,
): EditHistory {
  return Object.freeze({ past: Object.freeze(past), present, future: Object.freeze(future), maxEdits });
}

import { freezeList } from '../regions/freeze-region.js';
import {
  type EditHistory,
  exchangedRegions,
  freezeHistory,
  MOST_EDITS,
  type RecordedEdit,
} from '../regions/history.js';
import type { Region, RegionList } from '../regions/region.js';
import { describe } from '../signal/check.js';
import { atCurrentVersion } from './at-current-version.js';
import { HISTORY_FORMAT, HISTORY_FORMAT_VERSION, MOST_REPLAYED } from './history-format.js';
import { type FileKind, HISTORY_MIGRATIONS } from './migrations.js';
import { collectProblems, type NoteProblem, parseJson } from './parse-json.js';
import { readRegionData } from './read-region-data.js';
import type { Result } from './result.js';

/**
 * An edit history from the text of a history file. Never throws. Every edit is tried out on the way from the present to
 * either end, so that no undo or redo can lead to a list that breaks a rule; the first edit that does not fit is reported,
 * what lies behind it is not read. Time: linear in the text, and in regions times edits (at most MOST_REPLAYED).
 *
 * @param text the text of the file; anything but a string is a problem, not an error. The limits of `regionsFromJson`
 * on length and on objects hold.
 * @returns the history, frozen, or up to MOST_PROBLEMS problems with their paths, as in `$.past[3].insert.regions[0].gainDb`
 *
 * Source: T. Bray (ed.), "The JavaScript Object Notation (JSON) Data Interchange Format", RFC 8259, 2017.
 *
 * @example
 * import { historyFromJson } from 'lenition/exchange';
 * const result = historyFromJson('{ "format": "lenition.regions", "version": 1 }');
 * result.ok ? '' : result.problems[0]?.path; // => '$.format'
 */
export function historyFromJson(text: unknown): Result<EditHistory> {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const data = parsed.value;
  return collectProblems((note) => readHistory(data, note));
}

const HISTORY_FILE: FileKind = {
  format: HISTORY_FORMAT,
  version: HISTORY_FORMAT_VERSION,
  migrations: HISTORY_MIGRATIONS,
};

type Fields<Name extends string> = Partial<Record<Name, unknown>>;

function readHistory(data: unknown, note: NoteProblem): EditHistory | undefined {
  const current = atCurrentVersion(data, '$', HISTORY_FILE, note);
  if (current === undefined) return undefined;
  const { maxEdits, ...rest } = current as Fields<'maxEdits' | 'present' | 'past' | 'future'>;
  const most = isWithin(maxEdits, 1, MOST_EDITS) ? maxEdits : MOST_EDITS;
  if (most !== maxEdits)
    note('$.maxEdits', `must be a whole number from 1 to ${MOST_EDITS}`, describe(maxEdits));
  const present = readRegionData(rest.present, '$.present', note);
  const past = readArray(rest.past, '$.past', note);
  const future = readArray(rest.future, '$.future', note);
  if (present === undefined || past === undefined || future === undefined) return undefined;
  if (past.length + future.length > most) {
    note(
      '$.past',
      `must hold at most ${most} edits together with $.future`,
      String(past.length + future.length),
    );
    return undefined;
  }
  if (present.regions.length * (past.length + future.length) > MOST_REPLAYED) {
    const rule = `must hold fewer edits: with ${present.regions.length} regions at most`;
    const atMost = Math.floor(MOST_REPLAYED / present.regions.length);
    note('$.past', `${rule} ${atMost} together with $.future`, String(past.length + future.length));
    return undefined;
  }
  const earlier = readSteps(present, past, '$.past', true, note);
  const later = readSteps(present, future, '$.future', false, note);
  if (earlier === undefined || later === undefined) return undefined;
  return freezeHistory(earlier, present, later, most);
}

/** The edits of one side, read from the present outwards: in files as in histories the nearest is the last. */
function readSteps(
  present: RegionList,
  steps: readonly unknown[],
  path: string,
  backwards: boolean,
  note: NoteProblem,
): RecordedEdit[] | undefined {
  const edits: RecordedEdit[] = [];
  const byId = new Map(present.regions.map((region) => [region.id, region]));
  let near = present;
  for (let i = steps.length - 1; i >= 0; i--) {
    const step = readStep(near, byId, steps[i], `${path}[${i}]`, backwards, note);
    if (step === undefined) return undefined;
    const { label, from, to } = step;
    edits.push(
      Object.freeze(backwards ? { label, before: to, after: from } : { label, before: from, after: to }),
    );
    near = step.far;
  }
  return edits.reverse();
}

/** One step away from the present: the touched regions on both sides, and the whole list that it leads to. */
interface Step {
  readonly label: string;
  readonly from: RegionList;
  readonly to: RegionList;
  readonly far: RegionList;
}

function readStep(
  near: RegionList,
  byId: Map<number, Region>,
  data: unknown,
  path: string,
  backwards: boolean,
  note: NoteProblem,
): Step | undefined {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    note(path, 'must be an object', describe(data));
    return undefined;
  }
  const { label, remove, insert } = data as Fields<'label' | 'remove' | 'insert'>;
  const labelOk = typeof label === 'string';
  if (!labelOk) note(`${path}.label`, 'must be a string', describe(label));
  const from = readRemoved(near, byId, remove, `${path}.remove`, note);
  const to = readRegionData(insert, `${path}.insert`, note);
  if (!labelOk || from === undefined || to === undefined) return undefined;
  // Ids only rise: an earlier list cannot have given more of them than a later one.
  if (backwards ? to.nextId > near.nextId : to.nextId < near.nextId) {
    const rule = `must be at ${backwards ? 'most' : 'least'} ${near.nextId}, that of the list beside it`;
    note(`${path}.insert.nextId`, rule, String(to.nextId));
    return undefined;
  }
  for (const { id } of from.regions) byId.delete(id);
  const twice = to.regions.find(({ id }) => byId.has(id));
  for (const region of to.regions) byId.set(region.id, region);
  // Not frozen: it is let go as soon as the next step is tried.
  const far = { ...to, regions: exchangedRegions(near.regions, from.regions, to.regions) };
  const odd = twice ?? firstMisfit(far);
  if (odd === undefined) return { label, from, to, far };
  note(`${path}.insert`, 'must fit into the list beside it', `region ${odd.id} does not`);
  return undefined;
}

/** The regions that a step takes out, in order of time, with the head of the list that they are in. */
function readRemoved(
  near: RegionList,
  byId: ReadonlyMap<number, Region>,
  ids: unknown,
  path: string,
  note: NoteProblem,
): RegionList | undefined {
  const list = readArray(ids, path, note);
  if (list === undefined) return undefined;
  const regions: Region[] = [];
  for (const id of list) {
    const region = byId.get(id as number);
    if (region === undefined) {
      note(path, 'must be ids of regions of the list beside it', describe(id));
      return undefined;
    }
    regions.push(region);
  }
  if (new Set(list).size < list.length) {
    note(path, 'must hold no id twice', `${list.length} ids`);
    return undefined;
  }
  regions.sort((a, b) => a.startSample - b.startSample);
  return freezeList({ ...near, regions });
}

/**
 * The first region that breaks a rule against its list or its neighbour; each of them is sound by itself. No hashing here:
 * this runs over every region for every edit of a file.
 */
function firstMisfit({ regions, lengthSamples, nextId, sampleRateHz }: RegionList): Region | undefined {
  let end = 0;
  for (const region of regions) {
    const { endSample, onsetSample, offsetSample, band } = region;
    const inClip = endSample <= lengthSamples && (onsetSample ?? 0) <= lengthSamples;
    const measured =
      (offsetSample ?? 0) <= lengthSamples && (band === undefined || band.highHz <= sampleRateHz / 2);
    if (region.startSample < end || !inClip || !measured || region.id >= nextId) return region;
    end = endSample;
  }
  return undefined;
}

function readArray(value: unknown, path: string, note: NoteProblem): readonly unknown[] | undefined {
  if (Array.isArray(value)) return value;
  note(path, 'must be an array', describe(value));
  return undefined;
}

function isWithin(value: unknown, least: number, most: number): value is number {
  return Number.isSafeInteger(value) && (value as number) >= least && (value as number) <= most;
}

import { checkListShape } from '../regions/check-list-shape.js';
import { editRegions } from '../regions/edit-regions.js';
import {
  REGION_KINDS,
  type Region,
  type RegionKind,
  type RegionList,
  type RegionReason,
} from '../regions/region.js';
import { checkArray, checkChoice, checkInteger, checkNumber, checkObject } from '../signal/check.js';

/** Which regions a gain decision takes; locked and bypassed ones it never takes. */
export interface RegionChoice {
  /** Kinds to take. Left out: sibilants alone, or every kind where `ids` is given. An empty list takes none. */
  readonly kinds?: readonly RegionKind[];
  /** Take only regions with these ids. Left out: all. */
  readonly ids?: readonly number[];
  /** Take only regions of at least this confidence, 0 to 1. Default 0. */
  readonly minConfidence?: number;
  /** Take only regions that share at least one sample with [startSample, endSample), a phrase for one; an empty range takes none. Default: all. */
  readonly between?: {
    /** First sample of the range. */
    readonly startSample: number;
    /** One past the last sample of the range. */
    readonly endSample: number;
  };
}

/** Names of the fields of a choice. */
export const REGION_CHOICE_FIELDS: readonly (keyof RegionChoice)[] = Object.freeze([
  'kinds',
  'ids',
  'minConfidence',
  'between',
] as const);

/** A new gain and the numbers that it was made from. */
export interface GainDecision {
  /** In dB, within LEAST_GAIN_DB to MOST_GAIN_DB. */
  readonly gainDb: number;
  readonly numbers: Readonly<Record<string, number>>;
}

/**
 * The list with a new gain on every chosen region; the same list where no gain changes.
 * `gainOf` returns the new gain in dB, `numbers` what the reason shall say.
 */
export function changeGain(
  rule: string,
  list: RegionList,
  choice: RegionChoice,
  gainOf: (region: Region) => number,
  numbers: Readonly<Record<string, number>>,
): RegionList {
  checkListShape(rule, list);
  const takes = chooser(rule, choice);
  let changed = false;
  const next = editRegions(list, (region) => {
    if (!takes(region)) return undefined;
    const gainDb = gainOf(region);
    if (gainDb === region.gainDb && region.reason.rule === rule) return undefined;
    changed = true;
    return { gainDb, reason: { rule, numbers: { ...numbers, gainDb } } };
  });
  return changed ? next : list;
}

/**
 * The same for a gain that hangs on the region: `decide` returns its gain and its numbers, or undefined for a region that
 * stays as it is. The same list comes back where neither a gain nor a reason changes.
 */
export function decideGain(
  rule: string,
  list: RegionList,
  choice: RegionChoice,
  decide: (region: Region) => GainDecision | undefined,
): RegionList {
  checkListShape(rule, list);
  const takes = chooser(rule, choice);
  let changed = false;
  const next = editRegions(list, (region) => {
    const decision = takes(region) ? decide(region) : undefined;
    if (decision === undefined) return undefined;
    // Adding 0 makes 0 of −0, which JSON would lose.
    const gainDb = decision.gainDb + 0;
    const reason = { rule, numbers: { ...decision.numbers, gainDb } };
    if (gainDb === region.gainDb && sameReason(reason, region.reason)) return undefined;
    changed = true;
    return { gainDb, reason };
  });
  return changed ? next : list;
}

function sameReason(a: RegionReason, b: RegionReason): boolean {
  const names = Object.keys(a.numbers);
  return (
    a.rule === b.rule &&
    names.length === Object.keys(b.numbers).length &&
    names.every((name) => Object.hasOwn(b.numbers, name) && a.numbers[name] === b.numbers[name])
  );
}

function chooser(functionName: string, choice: RegionChoice): (region: Region) => boolean {
  const { ids, minConfidence = 0, between } = choice;
  const kinds = choice.kinds ?? (ids === undefined ? ['sibilant'] : REGION_KINDS);
  checkArray(functionName, 'kinds', kinds);
  if (ids !== undefined) checkArray(functionName, 'ids', ids);
  for (const kind of kinds) checkChoice(functionName, 'kinds', kind, REGION_KINDS);
  for (const id of ids ?? []) checkInteger(functionName, 'ids', id, 1);
  checkNumber(functionName, 'minConfidence', minConfidence, 0, 1);
  if (between !== undefined) {
    checkObject(functionName, 'between', between);
    checkInteger(functionName, 'between.startSample', between.startSample, 0);
    checkInteger(functionName, 'between.endSample', between.endSample, between.startSample);
  }
  const wanted = ids === undefined ? null : new Set(ids);
  // editRegions passes over locked regions.
  return (region) =>
    !region.bypassed &&
    region.confidence >= minConfidence &&
    kinds.includes(region.kind) &&
    (wanted === null || wanted.has(region.id)) &&
    (between === undefined ||
      (between.startSample < between.endSample &&
        region.startSample < between.endSample &&
        region.endSample > between.startSample));
}

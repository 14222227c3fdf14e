import { editRegions } from '../regions/edit-regions.js';
import { REGION_KINDS, type Region, type RegionKind, type RegionList } from '../regions/region.js';
import { checkChoice, checkInteger, checkNumber, typeError } from '../signal/check.js';

/** Which regions a gain decision takes; locked and bypassed ones it never takes. */
export interface RegionChoice {
  /** Kinds to take. Left out: sibilants alone, or every kind where `ids` is given. An empty list takes none. */
  readonly kinds?: readonly RegionKind[];
  /** Take only regions with these ids. Left out: all. */
  readonly ids?: readonly number[];
  /** Take only regions of at least this confidence, 0 to 1. Default 0. */
  readonly minConfidence?: number;
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

function chooser(functionName: string, choice: RegionChoice): (region: Region) => boolean {
  const { ids, minConfidence = 0 } = choice;
  const kinds = choice.kinds ?? (ids === undefined ? ['sibilant'] : REGION_KINDS);
  if (!Array.isArray(kinds)) throw typeError(functionName, 'kinds', 'must be an array', kinds);
  if (ids !== undefined && !Array.isArray(ids)) throw typeError(functionName, 'ids', 'must be an array', ids);
  for (const kind of kinds) checkChoice(functionName, 'kinds', kind, REGION_KINDS);
  for (const id of ids ?? []) checkInteger(functionName, 'ids', id, 1);
  checkNumber(functionName, 'minConfidence', minConfidence, 0, 1);
  const wanted = ids === undefined ? null : new Set(ids);
  // editRegions passes over locked regions.
  return (region) =>
    !region.bypassed &&
    region.confidence >= minConfidence &&
    kinds.includes(region.kind) &&
    (wanted === null || wanted.has(region.id));
}

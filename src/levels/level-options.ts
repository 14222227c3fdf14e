import { REGION_KINDS, type RegionKind, type RegionList } from '../regions/region.js';
import {
  checkArray,
  checkChoice,
  checkFields,
  checkNumber,
  checkObject,
  rangeError,
} from '../signal/check.js';

/** Options of measureLevels. */
export interface LevelOptions {
  /** Kinds to measure. Default: every kind. */
  readonly kinds?: readonly RegionKind[];
  /** Measure only the regions with these ids. Default: all. */
  readonly ids?: readonly number[];
  /**
   * Voiced sound to compare with, on each side of a region, in seconds; 0.01 to 10. Default 0.4: about two syllables,
   * so that one weak vowel does not make an s look harsh, and little enough to follow the singer's own swell.
   */
  readonly neighbourSeconds?: number;
}

/** Defaults of measureLevels. */
export const DEFAULT_LEVEL_OPTIONS: Readonly<Required<Pick<LevelOptions, 'neighbourSeconds'>>> =
  Object.freeze({ neighbourSeconds: 0.4 });

/** Options that have been checked and filled in; null takes all. */
export interface LevelSettings {
  readonly kinds: ReadonlySet<RegionKind> | null;
  readonly ids: ReadonlySet<number> | null;
  readonly neighbourSeconds: number;
}

/** Checks the options against the list and fills in the defaults. What else they may hold, `others` names. */
export function levelSettings(
  functionName: string,
  list: RegionList,
  options: LevelOptions,
  others: readonly string[] = [],
): LevelSettings {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, ['kinds', 'ids', 'neighbourSeconds', ...others]);
  const { kinds, ids, neighbourSeconds = DEFAULT_LEVEL_OPTIONS.neighbourSeconds } = options;
  checkNumber(functionName, 'options.neighbourSeconds', neighbourSeconds, 0.01, 10);
  if (kinds !== undefined) checkArray(functionName, 'options.kinds', kinds);
  for (const kind of kinds ?? []) checkChoice(functionName, 'options.kinds', kind, REGION_KINDS);
  if (ids !== undefined) checkArray(functionName, 'options.ids', ids);
  const known = new Set(list.regions.map((region) => region.id));
  for (const id of (ids ?? []) as readonly number[])
    if (!known.has(id))
      throw rangeError(functionName, 'options.ids', 'must be ids of regions of the list', id);
  return {
    kinds: kinds === undefined ? null : new Set(kinds),
    ids: ids === undefined ? null : new Set(ids),
    neighbourSeconds,
  };
}

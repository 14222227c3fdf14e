import type { RegionList } from '../regions/region.js';
import { checkFields, checkNumber, checkObject, typeError } from '../signal/check.js';
import { checkLevels } from './check-levels.js';
import { thLevel } from './over-cut-th-level.js';
import type { LevelTable } from './region-level.js';

/** How the over-cut guard is set. */
export interface GuardOptions {
  /** False switches the guard off: no floors, no flags, no limits. Default true. */
  readonly guard?: boolean;
  /** How far above the level of this voice's f and th the floor lies, in dB, −60 to 60: more is more careful. Default 2. */
  readonly marginDb?: number;
}

/** Names of the fields of the guard's settings. */
export const GUARD_FIELDS: readonly (keyof GuardOptions)[] = Object.freeze(['guard', 'marginDb'] as const);

/**
 * Defaults of the over-cut guard. With 2 dB, the usual 6 dB cut of the usual s of a voice that has no f or th of its own to
 * compare with is never flagged: 8 dB between s and th, less 2.
 */
export const DEFAULT_GUARD_OPTIONS: Readonly<Required<GuardOptions>> = Object.freeze({
  guard: true,
  marginDb: 2,
});

/** Practice hears no lisp in a 6 dB cut of an s that lies within 4 dB of its vowel, so no floor lies above −10 dB. */
const HIGHEST_FLOOR_DB = -10;

/** Below what an s or sh may be heard as another sound. */
export interface OverCutFloor {
  /** Sibilance, in dB relative to the neighbouring voice. */
  readonly floorDb: number;
  /** Whose f and th it was made from. */
  readonly source: 'own voice' | 'both' | 'published';
  /**
   * `thDb` (where the f and th of this voice are believed to lie), `marginDb`, `usualDb` (median of its s), `priorDb` (what
   * published figures give), `fricativeCount`, and `fricativeDb` (median of its own f and th) where it has any.
   */
  readonly numbers: Readonly<Record<string, number>>;
}

/**
 * The sibilance under which each sibilant of a take may be heard as another sound: floor = th + margin, at most −10 dB.
 *
 * An s that is scaled down to the level of th relative to the vowel is often heard as th: in listening tests 97 % right
 * became 60 % after a cut of 11 to 19 dB, and 99 % became 78 to 86 % for sh (Behrens and Blumstein 1988, from notes on it).
 * What counts is the voice's own th, so that is estimated: the median sibilance of its regions of kind `fricative` where it
 * has 8 or more of them; with fewer, mixed in proportion with published figures (n of 8 parts its own); with none, these alone: 8 dB
 * below its own median s, or midway between that and −18 dB where it is above −18 dB (see `numbers`). It is never taken as nearer to the median s than 8 dB.
 *
 * The highest floor, −10 dB, holds whatever the margin: an s at −4 dB or more may always lose 6 dB (common practice, no
 * source). All sibilants of a take have one floor, since th is one sound.
 *
 * Gains, bypass and locks do not enter, so a decision may use floors and be repeated.
 *
 * @param list - The regions of a take.
 * @param levels - Their measures; sibilants that it does not hold, or that have no sibilance, get no floor.
 * @param options - Margin and switch of the guard.
 * @returns The floors by region id, in order of time; empty where the guard is off.
 * @throws RangeError or TypeError for a margin out of range, a switch that is no boolean, a table of another rate.
 *
 * @example
 * import { overCutFloors } from 'lenition/levels';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800 });
 * // A level as measureLevels gives it, of which only two fields matter here.
 * const level = { id: 1, kind: 'sibilant', sound: 's-like', sibilanceDb: -12 };
 * const levels = { sampleRateHz: 48000, byId: new Map([[1, level as never]]), voiceDbfs: -20 };
 * overCutFloors(list, levels).get(1)?.floorDb; // => -18
 */
export function overCutFloors(
  list: RegionList,
  levels: LevelTable,
  options: GuardOptions = {},
): ReadonlyMap<number, OverCutFloor> {
  checkGuard('overCutFloors', options);
  return floorsFor('overCutFloors', list, levels, options);
}

/** Throws unless the settings of the guard are an object and hold nothing else. */
export function checkGuard(functionName: string, options: GuardOptions): void {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, GUARD_FIELDS);
}

/** The same for another function, whose name the messages then carry. */
export function floorsFor(
  functionName: string,
  list: RegionList,
  levels: LevelTable,
  options: GuardOptions,
): ReadonlyMap<number, OverCutFloor> {
  checkLevels(functionName, list, levels);
  checkObject(functionName, 'options', options);
  const { guard = DEFAULT_GUARD_OPTIONS.guard, marginDb = DEFAULT_GUARD_OPTIONS.marginDb } = options;
  if (typeof guard !== 'boolean') throw typeError(functionName, 'guard', 'must be a boolean', guard);
  checkNumber(functionName, 'marginDb', marginDb, -60, 60);
  const floors = new Map<number, OverCutFloor>();
  const th = guard ? thLevel(list, levels) : null;
  if (th === null) return floors;
  const { thDb, source, usualDb, priorDb, fricativeCount, fricativeDb } = th;
  const floor: OverCutFloor = Object.freeze({
    floorDb: Math.min(thDb + marginDb, HIGHEST_FLOOR_DB),
    source,
    numbers: Object.freeze({
      thDb,
      marginDb,
      usualDb,
      priorDb,
      fricativeCount,
      ...(fricativeDb === null ? {} : { fricativeDb }),
    }),
  });
  for (const { id, kind } of list.regions)
    if (kind === 'sibilant' && typeof levels.byId.get(id)?.sibilanceDb === 'number') floors.set(id, floor);
  return floors;
}

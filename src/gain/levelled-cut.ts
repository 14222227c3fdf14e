import { floorsFor, GUARD_FIELDS, type GuardOptions } from '../levels/over-cut-floors.js';
import type { LevelTable } from '../levels/region-level.js';
import { LEAST_GAIN_DB, type RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { decideGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';
import { guardedCut } from './guarded-cut.js';
import { referenceBySound } from './reference-level.js';

/** Settings of levelledCut; what is left out has its value from DEFAULT_LEVELLED_CUT_OPTIONS. */
export interface LevelledCutOptions extends RegionChoice, GuardOptions {
  /** Sibilance that louder regions are brought down to, in dB, −100 to 100; null: this take's own. */
  readonly targetDb?: number | null;
  /** Which percentile of the take's own sound is its own target, 0 to 100; 50 is the median. Not used with a number as `targetDb`. */
  readonly targetPercentile?: number;
  /** Greatest cut, in dB, 0 to 120. */
  readonly maxCutDb?: number;
}

/**
 * Defaults of levelledCut: the take's own softest fifth, and cuts of at most 6 dB (common practice, no source).
 *
 * Why not the median: levelling to it leaves the lower half of the spread as it was. Of 21 sung songs (pjs_singing of the labelled
 * voices, measured by test/gain/corpus-spread.test.ts) the distance from the 10th to the 90th percentile then fell by a third in 13; at
 * the softest fifth in all but one (by 23 % there), with a mean cut of 2.4 dB.
 */
export const DEFAULT_LEVELLED_CUT_OPTIONS: Readonly<
  Required<Pick<LevelledCutOptions, 'targetDb' | 'targetPercentile' | 'maxCutDb' | 'minConfidence'>>
> = Object.freeze({ targetDb: null, targetPercentile: 20, maxCutDb: 6, minConfidence: 0 });

/**
 * Brings each chosen region down towards one sibilance: the loud ones more, the soft ones not at all.
 *
 * gain = −min(max(0, sibilance − target), maxCutDb, room above the guard's floor). The target is `targetDb`, or a percentile
 * of the take's own sound, s-like and sh-like apart (see `targetPercentile`); a sound that the take has few of borrows from all its
 * sibilants, as if 4 more of it lay at their percentile. Gains are set, not added, and the target comes from the sound
 * as recorded: doing it twice changes nothing, and a region that is no louder than the target gets 0 dB, whatever it had.
 *
 * No computed cut goes below the floor of overCutFloors (`guard: false` lifts that). Locked and bypassed
 * regions stay as they are, and so do those without a sibilance. Start, end and fades are not touched.
 *
 * @param list - The regions of a take; not changed. An empty list comes back as it is.
 * @param levels - Their measures, as measureLevels gives them.
 * @param options - Target, limits, guard and choice of regions (sibilants unless stated).
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Chosen regions carry the
 *   reason `{ rule: 'levelledCut', numbers: { sibilanceDb, targetDb, wantedCutDb, maxCutDb, floorDb, gainDb } }`, without
 *   `floorDb` where there is no guard.
 * @throws RangeError or TypeError for an option outside its range, an unknown kind, a bad id, a table of another rate.
 *
 * Source: common practice.
 *
 * @example
 * import { levelledCut } from 'lenition/gain';
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegions(empty, [1, 2, 3].map((i) => (
 *   { kind: 'sibilant' as const, startSample: i * 9600, endSample: i * 9600 + 4800 }
 * )));
 * // Levels as measureLevels gives them, of which only these fields matter here.
 * const level = (id: number, sibilanceDb: number) => [id, { id, kind: 'sibilant', sound: 's-like', sibilanceDb } as never] as const;
 * const levels = { sampleRateHz: 48000, byId: new Map([level(1, -8), level(2, -5), level(3, 2)]), voiceDbfs: -20 };
 * levelledCut(list, levels, { targetDb: -6 }).regions.map((region) => region.gainDb); // => [0, -1, -6]
 */
export function levelledCut(
  list: RegionList,
  levels: LevelTable,
  options: LevelledCutOptions = {},
): RegionList {
  const { targetDb, targetPercentile, maxCutDb } = checkedOptions(
    'levelledCut',
    DEFAULT_LEVELLED_CUT_OPTIONS,
    options,
    [...REGION_CHOICE_FIELDS, ...GUARD_FIELDS],
  );
  if (targetDb !== null) checkNumber('levelledCut', 'targetDb', targetDb, -100, 100);
  checkNumber('levelledCut', 'targetPercentile', targetPercentile, 0, 100);
  checkNumber('levelledCut', 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  const floors = floorsFor('levelledCut', list, levels, options);
  const ownTarget = referenceBySound(list, levels, targetPercentile);
  return decideGain('levelledCut', list, options, (region) => {
    const level = levels.byId.get(region.id);
    const target = level === undefined ? null : (targetDb ?? ownTarget(level));
    if (level === undefined || level.sibilanceDb === null || target === null) return undefined;
    const wantedCutDb = Math.max(0, level.sibilanceDb - target);
    const limits = { floors, maxCutDb };
    return guardedCut(region, level.sibilanceDb, wantedCutDb, { targetDb: target }, limits);
  });
}

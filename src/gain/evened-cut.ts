import { floorsFor, GUARD_FIELDS, type GuardOptions } from '../levels/over-cut-floors.js';
import type { LevelTable } from '../levels/region-level.js';
import { LEAST_GAIN_DB, type RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { decideGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';
import { guardedCut } from './guarded-cut.js';
import { referenceByKind } from './reference-level.js';

/** Settings of evenedCut; what is left out has its value from DEFAULT_EVENED_CUT_OPTIONS. */
export interface EvenedCutOptions extends RegionChoice, GuardOptions {
  /** Share of the excess over the reference that is taken away, 0 to 1. */
  readonly share?: number;
  /** Which percentile of the take's regions of that kind is the reference, 0 to 100. */
  readonly referencePercentile?: number;
  /** Greatest cut, in dB, 0 to 120. */
  readonly maxCutDb?: number;
}

/**
 * Defaults of evenedCut: half of what lies above the take's 10th percentile, at most 6 dB (common practice, no source).
 *
 * From the 10th percentile, since all above it is then scaled by one factor: the distance from the 10th to the 90th
 * percentile falls by about the share itself as long as no cut meets a limit. Half of a spread of up to 12 dB stays within 6 dB.
 */
export const DEFAULT_EVENED_CUT_OPTIONS: Readonly<
  Required<Pick<EvenedCutOptions, 'share' | 'referencePercentile' | 'maxCutDb' | 'minConfidence'>>
> = Object.freeze({ share: 0.5, referencePercentile: 10, maxCutDb: 6, minConfidence: 0 });

/**
 * Makes the sibilance through a song more even and keeps its order: loud ones stay louder, by less.
 *
 * gain = −min(share · max(0, sibilance − reference), maxCutDb, room above the guard's floor). The reference is a low percentile of
 * the take's own, over all regions of the kind, s-like and sh-like together: so order is kept, and the spread falls by the share. With
 * share 0 nothing is cut, with share 1 everything is brought to the reference. Gains are set, not added: doing it twice
 * changes nothing, and a region no louder than the reference gets 0 dB, whatever it had.
 *
 * No computed cut goes below the floor of overCutFloors (`guard: false` lifts that). Locked and bypassed
 * regions stay as they are, and so do those without a sibilance. Start, end and fades are not touched.
 *
 * @param list - The regions of a take; not changed. An empty list comes back as it is.
 * @param levels - Their measures, as measureLevels gives them.
 * @param options - Share, reference, limits, guard and choice of regions (sibilants unless stated).
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Chosen regions carry the
 *   reason `{ rule: 'evenedCut', numbers: { sibilanceDb, referenceDb, share, wantedCutDb, maxCutDb, floorDb, gainDb } }`, without
 *   `floorDb` where there is no guard.
 * @throws RangeError or TypeError for an option outside its range, an unknown kind, a bad id, a table of another rate.
 *
 * Source: common practice.
 *
 * @example
 * import { evenedCut } from 'lenition/gain';
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegions(empty, [1, 2, 3].map((i) => (
 *   { kind: 'sibilant' as const, startSample: i * 9600, endSample: i * 9600 + 4800 }
 * )));
 * // Levels as measureLevels gives them, of which only these fields matter here.
 * const level = (id: number, sibilanceDb: number) => [id, { id, kind: 'sibilant', sound: 's-like', sibilanceDb } as never] as const;
 * const levels = { sampleRateHz: 48000, byId: new Map([level(1, -8), level(2, -4), level(3, 2)]), voiceDbfs: -20 };
 * evenedCut(list, levels, { referencePercentile: 0 }).regions.map((region) => region.gainDb); // => [0, -2, -5]
 */
export function evenedCut(list: RegionList, levels: LevelTable, options: EvenedCutOptions = {}): RegionList {
  const { share, referencePercentile, maxCutDb } = checkedOptions(
    'evenedCut',
    DEFAULT_EVENED_CUT_OPTIONS,
    options,
    [...REGION_CHOICE_FIELDS, ...GUARD_FIELDS],
  );
  checkNumber('evenedCut', 'share', share, 0, 1);
  checkNumber('evenedCut', 'referencePercentile', referencePercentile, 0, 100);
  checkNumber('evenedCut', 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  const floors = floorsFor('evenedCut', list, levels, options);
  const reference = referenceByKind(list, levels, referencePercentile);
  return decideGain('evenedCut', list, options, (region) => {
    const level = levels.byId.get(region.id);
    const referenceDb = level === undefined ? null : reference(level);
    if (level === undefined || level.sibilanceDb === null || referenceDb === null) return undefined;
    const wantedCutDb = share * Math.max(0, level.sibilanceDb - referenceDb);
    const limits = { floors, maxCutDb };
    return guardedCut(region, level.sibilanceDb, wantedCutDb, { referenceDb, share }, limits);
  });
}

import { LEAST_GAIN_DB, type RegionList } from '../regions/region.js';
import { checkGuard, floorsFor, type GuardOptions } from './over-cut-floors.js';
import type { LevelTable } from './region-level.js';

/** Forgives what rounding leaves of a cut that ends on the floor exactly. */
const ROUNDING_DB = 1e-9;

/** A cut that may have gone too far. */
export interface OverCutFlag {
  /** Id of the region in its list. */
  readonly id: number;
  /** Sibilance with the region's gain, in dB relative to the neighbouring voice. */
  readonly sibilanceAfterDb: number;
  /** The floor that it lies under. */
  readonly floorDb: number;
  /** How far under it, in dB, above 0. */
  readonly byDb: number;
  /** What may be heard, in words; never a certainty. */
  readonly message: string;
}

/**
 * The sibilants that were cut below the floor of overCutFloors and may now be heard as another sound.
 *
 * Flags tell and change nothing: a cut that was asked for stays. A region as recorded (0 dB, boosted or bypassed) is never flagged,
 * however soft it is. The gain of a region with a band counts as if it had none, which errs on the careful side. Early fades and
 * mutes of a part: see shortenedFlags.
 *
 * @param list - The regions of a take with their gains.
 * @param levels - Their measures, as recorded.
 * @param options - Margin and switch of the guard.
 * @returns A frozen array in order of time; empty where the guard is off.
 * @throws As overCutFloors.
 *
 * Source: Behrens and Blumstein 1988 (from notes on it), see overCutFloors.
 *
 * @example
 * import { overCutFlags } from 'lenition/levels';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800, gainDb: -8 });
 * const level = { id: 1, kind: 'sibilant', sound: 's-like', sibilanceDb: -12 };
 * const levels = { sampleRateHz: 48000, byId: new Map([[1, level as never]]), voiceDbfs: -20 };
 * overCutFlags(list, levels)[0]?.message;
 * // => 'may be heard as th: 20.0 dB below the voice beside it, 2.0 dB under the guard'
 */
export function overCutFlags(
  list: RegionList,
  levels: LevelTable,
  options: GuardOptions = {},
): readonly OverCutFlag[] {
  checkGuard('overCutFlags', options);
  const floors = floorsFor('overCutFlags', list, levels, options);
  const flags: OverCutFlag[] = [];
  for (const { id, gainDb, bypassed } of list.regions) {
    const floorDb = floors.get(id)?.floorDb;
    const level = levels.byId.get(id);
    if (floorDb === undefined || typeof level?.sibilanceDb !== 'number' || bypassed || gainDb >= 0) continue;
    const sibilanceAfterDb = level.sibilanceDb + Math.max(gainDb, LEAST_GAIN_DB);
    const byDb = floorDb - sibilanceAfterDb;
    if (byDb <= ROUNDING_DB) continue;
    const sound = level.sound === 'sh-like' ? 'another sound' : 'th';
    const message =
      `may be heard as ${sound}: ${(-sibilanceAfterDb).toFixed(1)} dB below the voice beside it, ` +
      `${byDb.toFixed(1)} dB under the guard`;
    flags.push(Object.freeze({ id, sibilanceAfterDb, floorDb, byDb, message }));
  }
  return Object.freeze(flags);
}

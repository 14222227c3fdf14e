import type { OverCutFloor } from '../levels/over-cut-floors.js';
import type { Region } from '../regions/region.js';
import type { GainDecision } from './change-gain.js';

/** How far a computed cut may go. */
export interface CutLimits {
  /** Floors of the over-cut guard by region id. */
  readonly floors: ReadonlyMap<number, OverCutFloor>;
  /** Greatest cut, in dB, 0 to 120. */
  readonly maxCutDb: number;
}

/**
 * The gain for a cut of `wantedCutDb` (0 or more), held at the greatest cut and at the floor of the over-cut guard, with the
 * numbers of all of them. A sound that lies under its floor as recorded is not cut.
 */
export function guardedCut(
  region: Region,
  sibilanceDb: number,
  wantedCutDb: number,
  numbers: Readonly<Record<string, number>>,
  { floors, maxCutDb }: CutLimits,
): GainDecision {
  const floorDb = floors.get(region.id)?.floorDb;
  const roomDb = floorDb === undefined ? Number.POSITIVE_INFINITY : Math.max(0, sibilanceDb - floorDb);
  const floor = floorDb === undefined ? {} : { floorDb };
  return {
    gainDb: -Math.min(wantedCutDb, maxCutDb, roomDb),
    numbers: { sibilanceDb, ...numbers, wantedCutDb, maxCutDb, ...floor },
  };
}

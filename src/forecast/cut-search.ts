/** Looks for the gain, at most 0 dB, that brings one measured level down to a target. */
export interface CutSearch {
  /** The gain to try, or that was heard last, in dB. */
  readonly gainDb: number;
  /** What was heard with it, in dB. */
  readonly afterDb: number;
  /** Whether the gain is the least that is allowed. */
  readonly atLeastGain: boolean;
  /** Takes the level that was measured with `gainDb`. */
  heard(afterDb: number): void;
  /** Whether the level is at the target, or under it without any cut. */
  reached(toleranceDb: number): boolean;
  /** Whether there is nothing left to try: reached, or too loud at the least gain. */
  settled(toleranceDb: number): boolean;
  /** Chooses the next gain from what was heard. */
  move(toleranceDb: number): void;
}

/** A chain may answer 1 dB of gain with less or a little more than 1 dB; beyond these a secant is noise. */
const LEAST_SLOPE = 0.15;
const MOST_SLOPE = 2;

/**
 * A secant step, kept inside the greatest gain known to be too soft and the least known to be too loud. Other regions move at the
 * same time and change the answer a little, so a bracket that has closed without a hit is forgotten.
 */
export function createCutSearch(targetDb: number, leastGainDb: number): CutSearch {
  let gainDb = 0;
  let afterDb = Number.NaN;
  let last: { gainDb: number; afterDb: number } | null = null;
  let tooSoftDb = leastGainDb;
  let tooLoudDb = 0;
  const reached = (toleranceDb: number): boolean =>
    Math.abs(afterDb - targetDb) <= toleranceDb || (gainDb === 0 && afterDb < targetDb);
  return {
    get gainDb(): number {
      return gainDb;
    },
    get afterDb(): number {
      return afterDb;
    },
    get atLeastGain(): boolean {
      return gainDb === leastGainDb && afterDb > targetDb;
    },
    heard(level): void {
      afterDb = level;
    },
    reached,
    settled(toleranceDb): boolean {
      return reached(toleranceDb) || (gainDb === leastGainDb && afterDb > targetDb);
    },
    move(toleranceDb): void {
      if (this.settled(toleranceDb)) return;
      const slope =
        last === null || last.gainDb === gainDb ? 1 : (afterDb - last.afterDb) / (gainDb - last.gainDb);
      const safe = Number.isFinite(slope) ? Math.min(MOST_SLOPE, Math.max(LEAST_SLOPE, slope)) : 1;
      if (afterDb > targetDb) tooLoudDb = gainDb;
      else tooSoftDb = gainDb;
      if (tooLoudDb - tooSoftDb < 0.01) {
        tooSoftDb = leastGainDb;
        tooLoudDb = 0;
      }
      last = { gainDb, afterDb };
      const step = gainDb + (targetDb - afterDb) / safe;
      gainDb = step > tooSoftDb && step < tooLoudDb ? step : bounded(step, tooSoftDb, tooLoudDb, leastGainDb);
    },
  };
}

/** Outside the bracket: its limit where that is a limit of the gain and has not been tried, else the middle. */
function bounded(step: number, tooSoftDb: number, tooLoudDb: number, leastGainDb: number): number {
  if (step <= tooSoftDb && tooSoftDb === leastGainDb) return leastGainDb;
  if (step >= tooLoudDb && tooLoudDb === 0) return 0;
  return (tooSoftDb + tooLoudDb) / 2;
}

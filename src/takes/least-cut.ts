/** What leastCut looks for. */
export interface CutTarget {
  readonly mostCutDb: number;
  readonly targetDb: number;
  readonly toleranceDb: number;
}

/** Bisection halves 120 dB to a thousandth in 17 steps, and each other step is one. */
const MOST_STEPS = 40;

/**
 * The least cut, in dB, that brings `levelAt` into [target − tolerance, target]; 0 where it lies under the target without one, and the
 * greatest where that is not enough. `levelAt` must be continuous. Steps by the secant rule and by halves in turn, inside of what is
 * known to be too little and enough.
 */
export function leastCut(
  levelAt: (cutDb: number) => number,
  { mostCutDb, targetDb, toleranceDb }: CutTarget,
): number {
  const before = levelAt(0);
  if (before <= targetDb) return 0;
  const least = levelAt(mostCutDb);
  if (least > targetDb) return mostCutDb;
  let little = { cutDb: 0, levelDb: before };
  let enough = { cutDb: mostCutDb, levelDb: least };
  const aimDb = targetDb - toleranceDb / 2;
  for (let step = 0; step < MOST_STEPS && enough.levelDb < targetDb - toleranceDb; step++) {
    const secant =
      little.cutDb +
      ((enough.cutDb - little.cutDb) * (little.levelDb - aimDb)) / (little.levelDb - enough.levelDb);
    const isInside = step % 2 === 0 && secant > little.cutDb && secant < enough.cutDb;
    const cutDb = isInside ? secant : (little.cutDb + enough.cutDb) / 2;
    const levelDb = levelAt(cutDb);
    if (levelDb > targetDb) little = { cutDb, levelDb };
    else enough = { cutDb, levelDb };
  }
  return enough.cutDb;
}

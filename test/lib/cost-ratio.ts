/** Rounds that are always measured, and after how many a ratio that is still too great is believed. */
const LEAST_ROUNDS = 5;
const MOST_ROUNDS = 100;

/** CPU time of a call, in microseconds: the mean of two. It holds what the compiler and the collector of garbage spend meanwhile, on any thread. */
function cost(run: () => unknown): number {
  const before = process.cpuUsage();
  run();
  run();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 2;
}

/**
 * CPU time of `run` over that of `yardstick`, each the least of its rounds; the two take turns. A round in which the compiler is still at work, or
 * garbage of other tests is collected, costs more and never less: so more rounds are measured while the ratio is not below `limit`.
 */
export function costRatio(run: () => unknown, yardstick: () => unknown, limit: number): number {
  let spent = Number.POSITIVE_INFINITY;
  let unit = Number.POSITIVE_INFINITY;
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    unit = Math.min(unit, cost(yardstick));
    spent = Math.min(spent, cost(run));
    if (round >= LEAST_ROUNDS && spent / unit < limit) break;
  }
  return spent / unit;
}

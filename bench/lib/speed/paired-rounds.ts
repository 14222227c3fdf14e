import { type Spread, spreadOf } from './spread.js';

/** Does a piece of work and tells the processor microseconds that it took. */
export type Cost = () => number;

/** Costs of one round, each the mean of two runs. */
export interface Round {
  readonly work: number;
  readonly base: number;
}

/** An engine compiles a function anew while it runs, on threads whose time is counted too. For small functions that is over after so long. */
const WARM_SECONDS = 0.6;
const MOST_WARM_RUNS = 2000;

/**
 * Runs two pieces of work in turns, after both have run for `warmSeconds` of their own time: work, base, base, work each round. What slows
 * the machine steadily during a round falls on both alike, and what does so in one round alone moves the median over rounds little.
 */
export function pairedRounds(
  work: Cost,
  base: Cost,
  rounds: number,
  warmSeconds: number = WARM_SECONDS,
): readonly Round[] {
  const enough = warmSeconds * 1e6;
  const spent = { work: 0, base: 0 };
  for (let run = 0; run < MOST_WARM_RUNS; run++) {
    if (run > 1 && Math.min(spent.work, spent.base) >= enough) break;
    if (run < 2 || spent.work < enough) spent.work += work();
    if (run < 2 || spent.base < enough) spent.base += base();
  }
  return Array.from({ length: rounds }, () => {
    const first = work();
    const bases = base() + base();
    return { work: (first + work()) / 2, base: bases / 2 };
  });
}

/** How many times the processor time of the base the work took. */
export function ratioOf(rounds: readonly Round[]): Spread {
  return spreadOf(rounds.map(({ work, base }) => work / base));
}

/** How many times faster than the base the work was. */
export function speedUpOf(rounds: readonly Round[]): Spread {
  return spreadOf(rounds.map(({ work, base }) => base / work));
}

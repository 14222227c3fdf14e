import { type Spread, spreadOf } from './spread.js';

/** Does a piece of work and tells the processor microseconds that it took. */
export type Cost = () => number;

/** Costs of one round, each the mean of two runs. */
export interface Round {
  readonly work: number;
  readonly base: number;
}

/**
 * An engine compiles a function anew while it runs, on threads whose time is counted too. Finding in clips of 4 s cost 1.5 times the
 * transforms in its first second, and settled at 0.85 within three: a song takes longer than that, and an album an hour.
 */
const WARM_MICROSECONDS = 3_000_000;
const MOST_WARM_RUNS = 2000;

/**
 * Runs two pieces of work in turns: work, base, base, work each round. What slows the machine steadily during a round falls on both
 * alike, and what does so in one round alone moves the median over rounds little.
 */
export function pairedRounds(work: Cost, base: Cost, rounds: number): readonly Round[] {
  const spent = { work: 0, base: 0 };
  for (let run = 0; run < MOST_WARM_RUNS; run++) {
    if (run > 1 && Math.min(spent.work, spent.base) >= WARM_MICROSECONDS) break;
    if (run < 2 || spent.work < WARM_MICROSECONDS) spent.work += work();
    if (run < 2 || spent.base < WARM_MICROSECONDS) spent.base += base();
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

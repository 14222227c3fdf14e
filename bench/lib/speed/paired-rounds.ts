import { type Spread, spreadOf } from './spread.js';

/** Does a piece of work and tells the processor microseconds that it took. */
export type Cost = () => number;

/** Costs of one round, each the mean of two runs. */
export interface Round {
  readonly work: number;
  readonly base: number;
}

/** Engines compile a function anew while it runs; after so much of their time that is over. */
const WARM_MICROSECONDS = 300_000;
const MOST_WARM_RUNS = 200;

/**
 * Runs two pieces of work in turns: work, base, base, work each round. What slows the machine steadily during a round falls on both
 * alike, and what does so in one round alone moves the median over rounds little.
 */
export function pairedRounds(work: Cost, base: Cost, rounds: number): readonly Round[] {
  let spent = 0;
  for (let run = 0; run < 2 || (spent < WARM_MICROSECONDS && run < MOST_WARM_RUNS); run++)
    spent += Math.min(work(), base());
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

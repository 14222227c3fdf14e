import { quantile } from '../../../src/evaluation/quantile.js';

/** What a figure came to over several rounds. */
export interface Spread {
  readonly median: number;
  /** The middle half of the rounds lies between these two. */
  readonly low: number;
  readonly high: number;
  readonly rounds: number;
}

/** Median and middle half of some values; at least one. */
export function spreadOf(values: readonly number[]): Spread {
  return {
    median: quantile(values, 0.5),
    low: quantile(values, 0.25),
    high: quantile(values, 0.75),
    rounds: values.length,
  };
}

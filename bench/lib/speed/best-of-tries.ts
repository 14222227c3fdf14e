import type { Spread } from './spread.js';

/** What was measured, and how often. */
export interface Tried {
  readonly spread: Spread;
  readonly tries: number;
}

/**
 * Measures again, `mostTries` times in all, until a measurement holds. Another process that empties the caches makes a time larger for as
 * long as it runs; what has become slower is so in every try.
 */
export function tryUntil<T>(
  measure: () => T,
  holds: (measured: T) => boolean,
  mostTries: number,
): readonly T[] {
  const tries = [measure()];
  while (!holds(tries[tries.length - 1] as T) && tries.length < mostTries) tries.push(measure());
  return tries;
}

/** Measures again while the median is not at or below the ceiling, and gives the least. */
export function bestOfTries(measure: () => Spread, ceiling: number, mostTries: number): Tried {
  const tries = tryUntil(measure, ({ median }) => median <= ceiling, mostTries);
  return { spread: tries.reduce(lesser), tries: tries.length };
}

/** The one with the smaller median; the first where they are equal or the second has none. */
export function lesser(a: Spread, b: Spread): Spread {
  return b.median >= a.median || Number.isNaN(b.median) ? a : b;
}

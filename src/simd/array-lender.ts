import type { ArrayLender } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';

/** Arrays of one length that are kept for the next user: more streams than that at a time have fresh ones. */
const MOST_KEPT = 8;

/** Keeps what is given back, by length. Fresh memory has to be cleared page by page, which costs short clips more than their sums. */
export function createArrayLender(): ArrayLender {
  const kept = new Map<number, Doubles[]>();
  return {
    borrow: (length) => kept.get(length)?.pop() ?? new Float64Array(length),
    giveBack(array) {
      const same = kept.get(array.length) ?? [];
      if (same.length < MOST_KEPT) same.push(array);
      kept.set(array.length, same);
    },
  };
}

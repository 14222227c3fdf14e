import type { ArrayLender } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';

/** Rows of equal width that are added at the end and forgotten from the start: the memory of a stream. */
export interface RowStore {
  readonly width: number;
  /** Index of the first row still held. */
  readonly first: number;
  /** One past the index of the last row. */
  readonly end: number;
  /** The numbers; row i begins at `at(i)`. Not to be kept across `add`. */
  readonly data: Doubles;
  /** Position in `data` of row i, which must be held. */
  at(row: number): number;
  /** Adds rows of zeros, one unless told otherwise, and gives the position of the first in `data`. */
  add(count?: number): number;
  /** Forgets the rows before this one. */
  dropBefore(row: number): void;
  /** Ends the use of the store: its memory may go to another. */
  release(): void;
}

/** Memory that nobody had before. */
const FRESH: ArrayLender = { borrow: (length) => new Float64Array(length), giveBack: () => {} };
const NOTHING: Doubles = new Float64Array(0);

/** Room that a store has from the start. */
const FIRST_ROWS = 64;

/**
 * Makes an empty store with room for so many rows. Memory: room grows by a quarter where the rows held fill over 7/8 of it, so it is
 * at most 1.43 times the most rows ever held, and a few, or the first room.
 */
export function createRowStore(
  width: number,
  firstRows: number = FIRST_ROWS,
  lender: ArrayLender = FRESH,
): RowStore {
  let data = lender.borrow(firstRows * width);
  let base = 0;
  let first = 0;
  let end = 0;
  return {
    width,
    get first() {
      return first;
    },
    get end() {
      return end;
    },
    get data() {
      return data;
    },
    at: (row) => (row - base) * width,
    add(count = 1) {
      if ((end + count - base) * width > data.length) makeRoom(count);
      const start = (end - base) * width;
      end += count;
      // Rows are short: a loop is faster than a call of fill.
      for (let i = start; i < start + count * width; i++) data[i] = 0;
      return start;
    },
    dropBefore(row) {
      first = Math.max(first, Math.min(row, end));
    },
    release() {
      lender.giveBack(data);
      data = NOTHING;
      base = end;
      first = end;
    },
  };

  /** Moves the held rows to the front, in a larger room where they leave too little of this one: each row is moved some seven times. */
  function makeRoom(count: number): void {
    const held = end - first;
    const least = held + count - 1;
    let rows = data.length / width;
    while (8 * least > 7 * rows) rows = Math.ceil(1.25 * rows);
    const from = (first - base) * width;
    const to = (end - base) * width;
    if (rows * width > data.length) {
      const larger = lender.borrow(rows * width);
      larger.set(data.subarray(from, to));
      lender.giveBack(data);
      data = larger;
    } else data.copyWithin(0, from, to);
    base = first;
  }
}

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
  /** Adds a row of zeros and gives its position in `data`. */
  add(): number;
  /** Forgets the rows before this one. */
  dropBefore(row: number): void;
}

/** Makes an empty store. Memory: at most about four times the most rows ever held. */
export function createRowStore(width: number): RowStore {
  let data = new Float64Array(64 * width);
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
    add() {
      const position = (end - base) * width;
      if (position === data.length) makeRoom();
      end++;
      const start = (end - 1 - base) * width;
      data.fill(0, start, start + width);
      return start;
    },
    dropBefore(row) {
      first = Math.max(first, Math.min(row, end));
    },
  };

  // Moves the held rows to the front; doubles the space when they fill over half of it.
  function makeRoom(): void {
    const held = data.subarray((first - base) * width, (end - base) * width);
    if (held.length * 2 > data.length) {
      const larger = new Float64Array(data.length * 2);
      larger.set(held);
      data = larger;
    } else data.copyWithin(0, (first - base) * width, (end - base) * width);
    base = first;
  }
}

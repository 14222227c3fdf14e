/**
 * Products of small matrices, rows one after another. Several sums are kept in registers at a time, because loading
 * and storing numbers is what costs: four times as fast as the plain loops.
 */

/** gradient += rowsᵀ · changes: what the matrix of `multiplyInto` gets when its result should change so. */
export function addOuterInto(
  gradient: Float64Array,
  rows: Float64Array,
  changes: Float64Array,
  rowCount: number,
  inner: number,
  outer: number,
): void {
  let t = 0;
  for (; t + 4 <= rowCount; t += 4) {
    const x = t * inner;
    const d0 = t * outer;
    const d1 = d0 + outer;
    const d2 = d1 + outer;
    const d3 = d2 + outer;
    for (let i = 0; i < inner; i++) {
      const p = rows[x + i] as number;
      const q = rows[x + inner + i] as number;
      const r = rows[x + 2 * inner + i] as number;
      const s = rows[x + 3 * inner + i] as number;
      for (let o = 0, g = i * outer; o < outer; o++, g++)
        gradient[g] =
          (gradient[g] as number) +
          p * (changes[d0 + o] as number) +
          q * (changes[d1 + o] as number) +
          r * (changes[d2 + o] as number) +
          s * (changes[d3 + o] as number);
    }
  }
  for (; t < rowCount; t++)
    for (let i = 0; i < inner; i++) {
      const p = rows[t * inner + i] as number;
      for (let o = 0, g = i * outer; o < outer; o++, g++)
        gradient[g] = (gradient[g] as number) + p * (changes[t * outer + o] as number);
    }
}

/** gradient += the sum of all rows of changes: what the bias of `multiplyInto` gets. */
export function addRowsInto(
  gradient: Float64Array,
  changes: Float64Array,
  rowCount: number,
  outer: number,
): void {
  for (let t = 0; t < rowCount; t++)
    for (let o = 0, d = t * outer; o < outer; o++, d++)
      gradient[o] = (gradient[o] as number) + (changes[d] as number);
}

/** out = matrixᵀ, for a matrix of `inner` × `outer`. */
export function transposeInto(out: Float64Array, matrix: Float64Array, inner: number, outer: number): void {
  for (let i = 0; i < inner; i++)
    for (let o = 0; o < outer; o++) out[o * inner + i] = matrix[i * outer + o] as number;
}

/*
 * Products of rows with a small matrix and filters over rows, two neighbouring columns to a vector. Every sum is added in the order of
 * src/detection/multiply-rows.ts and filter-rows.ts.
 */

/** What becomes of a product: 0 writes it, 1 writes 0 for what is below 0, 2 adds that to what is there. */
function use(at: usize, sum: v128, way: i32): void {
  let value = sum;
  if (way !== 0) value = f64x2.mul(f64x2.splat(0.5), f64x2.add(sum, f64x2.abs(sum)));
  if (way === 2) value = f64x2.add(v128.load(at), value);
  v128.store(at, value);
}

/** rows · matrix + bias; `outer` is even. */
export function multiplyRows(
  out: usize,
  rows: usize,
  matrix: usize,
  bias: usize,
  rowCount: usize,
  inner: usize,
  outer: usize,
  way: i32,
): void {
  const i8 = inner << 3;
  const o8 = outer << 3;
  let t: usize = 0;
  for (; t + 4 <= rowCount; t += 4) {
    const x = rows + t * i8;
    let y = out + t * o8;
    let o: usize = 0;
    for (; o + 4 <= outer; o += 4, y += 32) {
      let a0 = v128.load(bias + (o << 3));
      let b0 = v128.load(bias + (o << 3) + 16);
      let a1 = a0;
      let a2 = a0;
      let a3 = a0;
      let b1 = b0;
      let b2 = b0;
      let b3 = b0;
      for (let i: usize = 0, w = matrix + (o << 3); i < i8; i += 8, w += o8) {
        const u = v128.load(w);
        const v = v128.load(w + 16);
        const p = v128.load64_splat(x + i);
        a0 = f64x2.add(a0, f64x2.mul(u, p));
        b0 = f64x2.add(b0, f64x2.mul(v, p));
        const q = v128.load64_splat(x + i + i8);
        a1 = f64x2.add(a1, f64x2.mul(u, q));
        b1 = f64x2.add(b1, f64x2.mul(v, q));
        const r = v128.load64_splat(x + i + 2 * i8);
        a2 = f64x2.add(a2, f64x2.mul(u, r));
        b2 = f64x2.add(b2, f64x2.mul(v, r));
        const s = v128.load64_splat(x + i + 3 * i8);
        a3 = f64x2.add(a3, f64x2.mul(u, s));
        b3 = f64x2.add(b3, f64x2.mul(v, s));
      }
      use(y, a0, way);
      use(y + 16, b0, way);
      use(y + o8, a1, way);
      use(y + o8 + 16, b1, way);
      use(y + 2 * o8, a2, way);
      use(y + 2 * o8 + 16, b2, way);
      use(y + 3 * o8, a3, way);
      use(y + 3 * o8 + 16, b3, way);
    }
    for (; o < outer; o += 2, y += 16)
      for (let k: usize = 0; k < 4; k++) pairOfColumns(y + k * o8, x + k * i8, matrix, bias, i8, o8, o, way);
  }
  for (; t < rowCount; t++)
    for (let o: usize = 0; o < outer; o += 2)
      pairOfColumns(out + t * o8 + (o << 3), rows + t * i8, matrix, bias, i8, o8, o, way);
}

function pairOfColumns(
  y: usize,
  x: usize,
  matrix: usize,
  bias: usize,
  i8: usize,
  o8: usize,
  o: usize,
  way: i32,
): void {
  let sum = v128.load(bias + (o << 3));
  for (let i: usize = 0, w = matrix + (o << 3); i < i8; i += 8, w += o8)
    sum = f64x2.add(sum, f64x2.mul(v128.load(w), v128.load64_splat(x + i)));
  use(y, sum, way);
}

/** out[t, c] = Σₖ rows[t·step + k·dilation, c] · taps[k, c] over five taps; `width` is even. */
export function filterRows(
  out: usize,
  rows: usize,
  taps: usize,
  rowCount: usize,
  width: usize,
  dilation: usize,
  step: usize,
): void {
  const w8 = width << 3;
  const apart = dilation * w8;
  const pace = step * w8;
  for (let c: usize = 0; c < w8; c += 16) {
    const a = v128.load(taps + c);
    const b = v128.load(taps + c + w8);
    const d = v128.load(taps + c + 2 * w8);
    const e = v128.load(taps + c + 3 * w8);
    const f = v128.load(taps + c + 4 * w8);
    let x = rows + c;
    let y = out + c;
    for (let t: usize = 0; t < rowCount; t++, x += pace, y += w8) {
      let sum = f64x2.add(f64x2.mul(v128.load(x), a), f64x2.mul(v128.load(x + apart), b));
      sum = f64x2.add(sum, f64x2.mul(v128.load(x + 2 * apart), d));
      sum = f64x2.add(sum, f64x2.mul(v128.load(x + 3 * apart), e));
      v128.store(y, f64x2.add(sum, f64x2.mul(v128.load(x + 4 * apart), f)));
    }
  }
}

/*
 * Powers of two real frames by one complex transform of N = 2^n points: a radix-4 Stockham transform (it leaves its results in order, so
 * no pass reverses bits) with real and imaginary parts in arrays of their own, two points to a vector. The window is applied in the first
 * pass, the pair is split in the last one. Every value is computed as in src/simd/scalar-pair-meter.ts, in the same order.
 */
import { lastPassOfFour, lastPassOfTwo } from './last-passes';

/**
 * Powers of two frames in bins 0 to `bins` − 1. At `tables` lie the window (N numbers), the factors of the first pass (6 N/4), those of
 * the passes between (room for N/2) and four work arrays of N + 2; src/simd/simd-pair-meter.ts lays them out.
 */
export function pairPowers(
  first: usize,
  second: usize,
  tables: usize,
  points: usize,
  powerA: usize,
  powerB: usize,
  bins: usize,
): void {
  const bytes = points << 3;
  const work = tables + 3 * bytes;
  const size = bytes + 16;
  let re = work;
  let im = work + size;
  let otherRe = work + 2 * size;
  let otherIm = work + 3 * size;
  firstPass(first, second, tables, tables + bytes, re, im, points);
  let factors = tables + bytes + 6 * (bytes >> 2);
  let rest = points >> 2;
  for (; rest > 4; rest >>= 2) {
    const groups = rest >> 2;
    middlePass(re, im, otherRe, otherIm, factors, groups, points / rest);
    factors += 48 * groups;
    const a = re;
    const b = im;
    re = otherRe;
    im = otherIm;
    otherRe = a;
    otherIm = b;
  }
  if (rest === 2) lastPassOfTwo(re, im, points >> 1, powerA, powerB, bins);
  else lastPassOfFour(re, im, points >> 2, powerA, powerB, bins);
}

/**
 * First pass, for N of 8 or more: windows two frames as the real and imaginary parts of one. Twiddle factors: six arrays of N/4, of the
 * real and imaginary parts of w, w² and w³.
 */
function firstPass(
  first: usize,
  second: usize,
  window: usize,
  twiddles: usize,
  re: usize,
  im: usize,
  points: usize,
): void {
  const quarter = points >> 2;
  const q8 = quarter << 3;
  const q4 = quarter << 2;
  for (let p: usize = 0; p < quarter; p += 2) {
    const w = window + (p << 3);
    const w0 = v128.load(w);
    const w1 = v128.load(w + q8);
    const w2 = v128.load(w + 2 * q8);
    const w3 = v128.load(w + 3 * q8);
    const x = first + (p << 2);
    const y = second + (p << 2);
    const ar = f64x2.mul(w0, promoted(x));
    const ai = f64x2.mul(w0, promoted(y));
    const br = f64x2.mul(w1, promoted(x + q4));
    const bi = f64x2.mul(w1, promoted(y + q4));
    const cr = f64x2.mul(w2, promoted(x + 2 * q4));
    const ci = f64x2.mul(w2, promoted(y + 2 * q4));
    const dr = f64x2.mul(w3, promoted(x + 3 * q4));
    const di = f64x2.mul(w3, promoted(y + 3 * q4));
    const evenSumRe = f64x2.add(ar, cr);
    const evenSumIm = f64x2.add(ai, ci);
    const evenDifRe = f64x2.sub(ar, cr);
    const evenDifIm = f64x2.sub(ai, ci);
    const oddSumRe = f64x2.add(br, dr);
    const oddSumIm = f64x2.add(bi, di);
    const turnedRe = f64x2.sub(bi, di);
    const turnedIm = f64x2.sub(dr, br);
    const t = twiddles + (p << 3);
    const re0 = f64x2.add(evenSumRe, oddSumRe);
    const im0 = f64x2.add(evenSumIm, oddSumIm);
    const ur = f64x2.add(evenDifRe, turnedRe);
    const ui = f64x2.add(evenDifIm, turnedIm);
    const c1 = v128.load(t);
    const s1 = v128.load(t + q8);
    const re1 = f64x2.sub(f64x2.mul(ur, c1), f64x2.mul(ui, s1));
    const im1 = f64x2.add(f64x2.mul(ur, s1), f64x2.mul(ui, c1));
    const to = p << 5;
    storeApart(re + to, re0, re1);
    storeApart(im + to, im0, im1);
    const vr = f64x2.sub(evenSumRe, oddSumRe);
    const vi = f64x2.sub(evenSumIm, oddSumIm);
    const c2 = v128.load(t + 2 * q8);
    const s2 = v128.load(t + 3 * q8);
    const re2 = f64x2.sub(f64x2.mul(vr, c2), f64x2.mul(vi, s2));
    const im2 = f64x2.add(f64x2.mul(vr, s2), f64x2.mul(vi, c2));
    const zr = f64x2.sub(evenDifRe, turnedRe);
    const zi = f64x2.sub(evenDifIm, turnedIm);
    const c3 = v128.load(t + 4 * q8);
    const s3 = v128.load(t + 5 * q8);
    const re3 = f64x2.sub(f64x2.mul(zr, c3), f64x2.mul(zi, s3));
    const im3 = f64x2.add(f64x2.mul(zr, s3), f64x2.mul(zi, c3));
    storeApart(re + to + 16, re2, re3);
    storeApart(im + to + 16, im2, im3);
  }
}

/** Two samples as doubles. */
function promoted(at: usize): v128 {
  return f64x2.promote_low_f32x4(v128.load64_zero(at));
}

/** Results p of two of the four outputs side by side, and p + 1 four places on. */
function storeApart(at: usize, even: v128, odd: v128): void {
  v128.store(at, v128.shuffle<f64>(even, odd, 0, 2));
  v128.store(at + 32, v128.shuffle<f64>(even, odd, 1, 3));
}

/**
 * A pass of `groups` twiddles over runs of `run` points (4 or more), from one pair of arrays to another. Twiddle factors: six numbers a
 * group. The first group turns nothing.
 */
function middlePass(
  fromRe: usize,
  fromIm: usize,
  toRe: usize,
  toIm: usize,
  twiddles: usize,
  groups: usize,
  run: usize,
): void {
  const r8 = run << 3;
  const stride = r8 * groups;
  for (let p: usize = 0; p < groups; p++) {
    const t = twiddles + p * 48;
    const c1 = v128.load64_splat(t);
    const s1 = v128.load64_splat(t + 8);
    const c2 = v128.load64_splat(t + 16);
    const s2 = v128.load64_splat(t + 24);
    const c3 = v128.load64_splat(t + 32);
    const s3 = v128.load64_splat(t + 40);
    const start = p * r8;
    for (let q: usize = 0; q < r8; q += 16) {
      const x = fromRe + start + q;
      const y = fromIm + start + q;
      const ar = v128.load(x);
      const ai = v128.load(y);
      const br = v128.load(x + stride);
      const bi = v128.load(y + stride);
      const cr = v128.load(x + 2 * stride);
      const ci = v128.load(y + 2 * stride);
      const dr = v128.load(x + 3 * stride);
      const di = v128.load(y + 3 * stride);
      const evenSumRe = f64x2.add(ar, cr);
      const evenSumIm = f64x2.add(ai, ci);
      const evenDifRe = f64x2.sub(ar, cr);
      const evenDifIm = f64x2.sub(ai, ci);
      const oddSumRe = f64x2.add(br, dr);
      const oddSumIm = f64x2.add(bi, di);
      const turnedRe = f64x2.sub(bi, di);
      const turnedIm = f64x2.sub(dr, br);
      const toX = toRe + 4 * start + q;
      const toY = toIm + 4 * start + q;
      v128.store(toX, f64x2.add(evenSumRe, oddSumRe));
      v128.store(toY, f64x2.add(evenSumIm, oddSumIm));
      const ur = f64x2.add(evenDifRe, turnedRe);
      const ui = f64x2.add(evenDifIm, turnedIm);
      v128.store(toX + r8, f64x2.sub(f64x2.mul(ur, c1), f64x2.mul(ui, s1)));
      v128.store(toY + r8, f64x2.add(f64x2.mul(ur, s1), f64x2.mul(ui, c1)));
      const vr = f64x2.sub(evenSumRe, oddSumRe);
      const vi = f64x2.sub(evenSumIm, oddSumIm);
      v128.store(toX + 2 * r8, f64x2.sub(f64x2.mul(vr, c2), f64x2.mul(vi, s2)));
      v128.store(toY + 2 * r8, f64x2.add(f64x2.mul(vr, s2), f64x2.mul(vi, c2)));
      const zr = f64x2.sub(evenDifRe, turnedRe);
      const zi = f64x2.sub(evenDifIm, turnedIm);
      v128.store(toX + 3 * r8, f64x2.sub(f64x2.mul(zr, c3), f64x2.mul(zi, s3)));
      v128.store(toY + 3 * r8, f64x2.add(f64x2.mul(zr, s3), f64x2.mul(zi, c3)));
    }
  }
}

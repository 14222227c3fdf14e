/*
 * Powers of two real frames by one complex transform of N = 2^n points: a radix-4 Stockham transform (it leaves its results in order, so
 * no pass reverses bits) with real and imaginary parts in arrays of their own, two points to a vector. The window is applied in the first
 * pass, the pair is split in the last one. Every value is computed as in src/simd/scalar-pair-meter.ts, in the same order.
 */

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

/**
 * Last pass of two points a run, where N is twice a power of four, and the powers of the pair in bins 0 to `bins` − 1, at most N/2 + 1.
 * With Z the spectrum of A + iB, 2A = Z[k] + Z*[N − k] and 2iB = Z[k] − Z*[N − k]. Bins that nobody reads cost nothing.
 */
function lastPassOfTwo(re: usize, im: usize, half: usize, powerA: usize, powerB: usize, bins: usize): void {
  const h8 = half << 3;
  const quarter = f64x2.splat(0.25);
  for (let k: usize = 1; k < bins; k += 2) {
    const x = k << 3;
    const mirror = h8 - x - 8;
    const zr = f64x2.add(v128.load(re + x), v128.load(re + x + h8));
    const zi = f64x2.add(v128.load(im + x), v128.load(im + x + h8));
    const mr = swapped(f64x2.sub(v128.load(re + mirror), v128.load(re + mirror + h8)));
    const mi = swapped(f64x2.sub(v128.load(im + mirror), v128.load(im + mirror + h8)));
    v128.store(powerA + x, squares(f64x2.add(zr, mr), f64x2.sub(zi, mi), quarter));
    v128.store(powerB + x, squares(f64x2.add(zi, mi), f64x2.sub(mr, zr), quarter));
  }
  const r0 = load<f64>(re);
  const r1 = load<f64>(re + h8);
  const i0 = load<f64>(im);
  const i1 = load<f64>(im + h8);
  store<f64>(powerA, (r0 + r1) * (r0 + r1));
  store<f64>(powerB, (i0 + i1) * (i0 + i1));
  if (bins > half) {
    store<f64>(powerA + h8, (r0 - r1) * (r0 - r1));
    store<f64>(powerB + h8, (i0 - i1) * (i0 - i1));
  }
}

/** Last pass of four points a run, where N is a power of four, and the powers of the pair in all bins. */
function lastPassOfFour(re: usize, im: usize, run: usize, powerA: usize, powerB: usize, bins: usize): void {
  const r8 = run << 3;
  const quarter = f64x2.splat(0.25);
  const all = bins > (run >> 1) + 1;
  const end = all ? run >> 1 : bins;
  for (let k: usize = 1; k < end; k += 2) {
    // Z[k], Z[k + run] … and, with m = run − k, Z[m], Z[m + run] …: each is the mirror image of one of the others.
    const x = k << 3;
    const ar = v128.load(re + x);
    const ai = v128.load(im + x);
    const br = v128.load(re + x + r8);
    const bi = v128.load(im + x + r8);
    const cr = v128.load(re + x + 2 * r8);
    const ci = v128.load(im + x + 2 * r8);
    const dr = v128.load(re + x + 3 * r8);
    const di = v128.load(im + x + 3 * r8);
    const evenSumRe = f64x2.add(ar, cr);
    const evenSumIm = f64x2.add(ai, ci);
    const evenDifRe = f64x2.sub(ar, cr);
    const evenDifIm = f64x2.sub(ai, ci);
    const oddSumRe = f64x2.add(br, dr);
    const oddSumIm = f64x2.add(bi, di);
    const turnedRe = f64x2.sub(bi, di);
    const turnedIm = f64x2.sub(dr, br);
    const m = r8 - x - 8;
    const er = v128.load(re + m);
    const ei = v128.load(im + m);
    const fr = v128.load(re + m + r8);
    const fi = v128.load(im + m + r8);
    const gr = v128.load(re + m + 2 * r8);
    const gi = v128.load(im + m + 2 * r8);
    const hr = v128.load(re + m + 3 * r8);
    const hi = v128.load(im + m + 3 * r8);
    const mirrorEvenSumRe = swapped(f64x2.add(er, gr));
    const mirrorEvenSumIm = swapped(f64x2.add(ei, gi));
    const mirrorEvenDifRe = swapped(f64x2.sub(er, gr));
    const mirrorEvenDifIm = swapped(f64x2.sub(ei, gi));
    const mirrorOddSumRe = swapped(f64x2.add(fr, hr));
    const mirrorOddSumIm = swapped(f64x2.add(fi, hi));
    const mirrorTurnedRe = swapped(f64x2.sub(fi, hi));
    const mirrorTurnedIm = swapped(f64x2.sub(hr, fr));
    // Bin k: Z[k] with Z[m + 3 run].
    let zr = f64x2.add(evenSumRe, oddSumRe);
    let zi = f64x2.add(evenSumIm, oddSumIm);
    let nr = f64x2.sub(mirrorEvenDifRe, mirrorTurnedRe);
    let ni = f64x2.sub(mirrorEvenDifIm, mirrorTurnedIm);
    v128.store(powerA + x, squares(f64x2.add(zr, nr), f64x2.sub(zi, ni), quarter));
    v128.store(powerB + x, squares(f64x2.add(zi, ni), f64x2.sub(nr, zr), quarter));
    if (!all) continue;
    // Bin k + run: Z[k + run] with Z[m + 2 run].
    zr = f64x2.add(evenDifRe, turnedRe);
    zi = f64x2.add(evenDifIm, turnedIm);
    nr = f64x2.sub(mirrorEvenSumRe, mirrorOddSumRe);
    ni = f64x2.sub(mirrorEvenSumIm, mirrorOddSumIm);
    v128.store(powerA + x + r8, squares(f64x2.add(zr, nr), f64x2.sub(zi, ni), quarter));
    v128.store(powerB + x + r8, squares(f64x2.add(zi, ni), f64x2.sub(nr, zr), quarter));
    // Bin m: Z[m] with Z[k + 3 run].
    zr = f64x2.add(mirrorEvenSumRe, mirrorOddSumRe);
    zi = f64x2.add(mirrorEvenSumIm, mirrorOddSumIm);
    nr = f64x2.sub(evenDifRe, turnedRe);
    ni = f64x2.sub(evenDifIm, turnedIm);
    v128.store(powerA + m, swapped(squares(f64x2.add(zr, nr), f64x2.sub(zi, ni), quarter)));
    v128.store(powerB + m, swapped(squares(f64x2.add(zi, ni), f64x2.sub(nr, zr), quarter)));
    // Bin m + run: Z[m + run] with Z[k + 2 run].
    zr = f64x2.add(mirrorEvenDifRe, mirrorTurnedRe);
    zi = f64x2.add(mirrorEvenDifIm, mirrorTurnedIm);
    nr = f64x2.sub(evenSumRe, oddSumRe);
    ni = f64x2.sub(evenSumIm, oddSumIm);
    v128.store(powerA + m + r8, swapped(squares(f64x2.add(zr, nr), f64x2.sub(zi, ni), quarter)));
    v128.store(powerB + m + r8, swapped(squares(f64x2.add(zi, ni), f64x2.sub(nr, zr), quarter)));
  }
  const ar = load<f64>(re);
  const ai = load<f64>(im);
  const br = load<f64>(re + r8);
  const bi = load<f64>(im + r8);
  const cr = load<f64>(re + 2 * r8);
  const ci = load<f64>(im + 2 * r8);
  const dr = load<f64>(re + 3 * r8);
  const di = load<f64>(im + 3 * r8);
  const sumRe = ar + cr + (br + dr);
  const sumIm = ai + ci + (bi + di);
  store<f64>(powerA, sumRe * sumRe);
  store<f64>(powerB, sumIm * sumIm);
  if (!all) return;
  const difRe = ar + cr - (br + dr);
  const difIm = ai + ci - (bi + di);
  store<f64>(powerA + 2 * r8, difRe * difRe);
  store<f64>(powerB + 2 * r8, difIm * difIm);
  // Bin run: Z[run] with Z[3 run].
  const zr = ar - cr + (bi - di);
  const zi = ai - ci + (dr - br);
  const nr = ar - cr - (bi - di);
  const ni = ai - ci - (dr - br);
  store<f64>(powerA + r8, 0.25 * ((zr + nr) * (zr + nr) + (zi - ni) * (zi - ni)));
  store<f64>(powerB + r8, 0.25 * ((zi + ni) * (zi + ni) + (nr - zr) * (nr - zr)));
}

function swapped(x: v128): v128 {
  return v128.shuffle<f64>(x, x, 1, 0);
}

function squares(re: v128, im: v128, scale: v128): v128 {
  return f64x2.mul(scale, f64x2.add(f64x2.mul(re, re), f64x2.mul(im, im)));
}

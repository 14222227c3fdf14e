/* Last passes of the transform of frames.ts, in which the pair of frames is split and its powers are taken. */

/**
 * Last pass of two points a run, where N is twice a power of four, and the powers of the pair in bins 0 to `bins` − 1, at most N/2 + 1.
 * With Z the spectrum of A + iB, 2A = Z[k] + Z*[N − k] and 2iB = Z[k] − Z*[N − k]. Bins that nobody reads cost nothing.
 */
export function lastPassOfTwo(
  re: usize,
  im: usize,
  half: usize,
  powerA: usize,
  powerB: usize,
  bins: usize,
): void {
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
export function lastPassOfFour(
  re: usize,
  im: usize,
  run: usize,
  powerA: usize,
  powerB: usize,
  bins: usize,
): void {
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

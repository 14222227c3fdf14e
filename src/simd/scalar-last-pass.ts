import type { Doubles } from '../signal/samples.js';

/**
 * Last pass of a transform whose points are put together by twos, and the powers of the two real frames in it: with Z the spectrum of
 * A + iB, 2A = Z[k] + Z*[N − k] and 2iB = Z[k] − Z*[N − k]. Only the bins that `powerA` has are computed.
 */
export function powersOfTwo(re: Doubles, im: Doubles, powerA: Doubles, powerB: Doubles): void {
  const half = re.length / 2;
  const end = Math.min(powerA.length, half);
  for (let k = 1, m = half - 1; k < end; k++, m--)
    split(
      powerA,
      powerB,
      k,
      (re[k] as number) + (re[k + half] as number),
      (im[k] as number) + (im[k + half] as number),
      (re[m] as number) - (re[m + half] as number),
      (im[m] as number) - (im[m + half] as number),
    );
  const r0 = re[0] as number;
  const r1 = re[half] as number;
  const i0 = im[0] as number;
  const i1 = im[half] as number;
  powerA[0] = (r0 + r1) * (r0 + r1);
  powerB[0] = (i0 + i1) * (i0 + i1);
  if (powerA.length > half) {
    powerA[half] = (r0 - r1) * (r0 - r1);
    powerB[half] = (i0 - i1) * (i0 - i1);
  }
}

/** The same where they are put together by fours. */
export function powersOfFour(re: Doubles, im: Doubles, powerA: Doubles, powerB: Doubles): void {
  const run = re.length / 4;
  // Z[k + j·run] and Z[m + j·run] with m = run − k: each of them is the mirror image of one of the others.
  const z = new Float64Array(16);
  const end = Math.min(powerA.length - 1, run / 2);
  const most = powerA.length;
  for (let k = 0; k <= end; k++) {
    const m = run - k;
    four(re, im, k, run, z, 0);
    four(re, im, k === 0 ? 0 : m, run, z, 8);
    const part = (i: number): number => z[i] as number;
    if (k === 0) {
      powerA[0] = part(0) * part(0);
      powerB[0] = part(4) * part(4);
      if (run < most) split(powerA, powerB, run, part(1), part(5), part(3), part(7));
      if (2 * run < most) {
        powerA[2 * run] = part(2) * part(2);
        powerB[2 * run] = part(6) * part(6);
      }
      continue;
    }
    split(powerA, powerB, k, part(0), part(4), part(11), part(15));
    if (k + run < most) split(powerA, powerB, k + run, part(1), part(5), part(10), part(14));
    if (m < most) split(powerA, powerB, m, part(8), part(12), part(3), part(7));
    if (m + run < most) split(powerA, powerB, m + run, part(9), part(13), part(2), part(6));
  }
}

/** Points k, k + run, k + 2 run and k + 3 run of the spectrum: real parts at `at`, imaginary parts four places on. */
function four(re: Doubles, im: Doubles, k: number, run: number, z: Doubles, at: number): void {
  const ar = re[k] as number;
  const ai = im[k] as number;
  const br = re[k + run] as number;
  const bi = im[k + run] as number;
  const cr = re[k + 2 * run] as number;
  const ci = im[k + 2 * run] as number;
  const dr = re[k + 3 * run] as number;
  const di = im[k + 3 * run] as number;
  z[at] = ar + cr + (br + dr);
  z[at + 4] = ai + ci + (bi + di);
  z[at + 1] = ar - cr + (bi - di);
  z[at + 5] = ai - ci + (dr - br);
  z[at + 2] = ar + cr - (br + dr);
  z[at + 6] = ai + ci - (bi + di);
  z[at + 3] = ar - cr - (bi - di);
  z[at + 7] = ai - ci - (dr - br);
}

/** Powers of both frames in bin k from Z[k] and Z[N − k]. */
function split(
  powerA: Doubles,
  powerB: Doubles,
  k: number,
  zr: number,
  zi: number,
  mirrorRe: number,
  mirrorIm: number,
): void {
  const aRe = zr + mirrorRe;
  const aIm = zi - mirrorIm;
  const bRe = zi + mirrorIm;
  const bIm = mirrorRe - zr;
  powerA[k] = 0.25 * (aRe * aRe + aIm * aIm);
  powerB[k] = 0.25 * (bRe * bRe + bIm * bIm);
}

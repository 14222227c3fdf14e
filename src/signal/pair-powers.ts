import type { Doubles } from './samples.js';

/**
 * Powers of two real frames that went through one complex transform: with Z the spectrum of A + iB,
 * 2A = Z[k] + Z*[N − k] and 2iB = Z[k] − Z*[N − k]. Fills as many bins as `powerA` has, at most N/2 + 1.
 *
 * @param spectrum N complex bins (2N numbers)
 * @param scale what each power is multiplied by
 */
export function pairPowersInto(spectrum: Doubles, powerA: Doubles, powerB: Doubles, scale: number): void {
  const re = spectrum[0] as number;
  const im = spectrum[1] as number;
  powerA[0] = scale * (re * re);
  powerB[0] = scale * (im * im);
  const quarter = 0.25 * scale;
  for (let k = 1, at = 2, mirror = spectrum.length - 2; k < powerA.length; k++, at += 2, mirror -= 2) {
    const re = spectrum[at] as number;
    const im = spectrum[at + 1] as number;
    const mirrorRe = spectrum[mirror] as number;
    const mirrorIm = spectrum[mirror + 1] as number;
    const aRe = re + mirrorRe;
    const aIm = im - mirrorIm;
    const bRe = im + mirrorIm;
    const bIm = mirrorRe - re;
    powerA[k] = quarter * (aRe * aRe + aIm * aIm);
    powerB[k] = quarter * (bRe * bRe + bIm * bIm);
  }
}

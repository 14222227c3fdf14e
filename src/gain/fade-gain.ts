import { FADE_SHAPES, type FadeShape } from '../regions/region.js';
import { checkChoice, checkInteger, checkNumber } from '../signal/check.js';

/**
 * Gain at sample `i` of a fade of `n` samples from gain g0 to gain g1, with x = i/n.
 *
 * `linear`: g0 + (g1 − g0)·x. `raisedCosine`: g0 + (g1 − g0)·(1 − cos πx)/2. `decibel`: g0·(g1/g0)^x.
 * All three lie between the two gains, so a fade into a cut never lifts the signal; an equal-power pair over a
 * signal and its own quieter copy would bulge by 1 to 2 dB.
 *
 * @param i - Sample of the fade, 0 to `n`; sample 0 has exactly g0 and sample `n`, the first after the fade, g1
 *   (to the last bit or so of a double).
 * @param n - Length of the fade in samples, at least 1. A fade of length 0 has no samples to ask for.
 * @param fromGain - g0, an amplitude factor above 0. A mute is the finite 1e-6 of LEAST_GAIN_DB, so `decibel`
 *   always has a ratio to work with.
 * @param toGain - g1, an amplitude factor above 0.
 * @param shape - One of FADE_SHAPES.
 * @returns The amplitude factor, a double.
 * @throws RangeError for a position outside the fade, an empty fade, a gain that is not above 0 or an unknown shape;
 *   TypeError for a value of another kind.
 *
 * Source: common practice; `decibel` is the exponential ramp of the W3C Web Audio recommendation (2021).
 *
 * @example
 * import { fadeGain } from 'lenition/gain';
 * fadeGain(1, 4, 1, 0.5, 'linear'); // => 0.875
 * fadeGain(0, 4, 1, 0.5, 'raisedCosine'); // => 1
 * fadeGain(2, 4, 1, 0.25, 'decibel'); // => 0.5
 */
export function fadeGain(i: number, n: number, fromGain: number, toGain: number, shape: FadeShape): number {
  // One test a sample on the good path; the exact complaint is worked out only when something is wrong.
  const placed = Number.isSafeInteger(n) && Number.isFinite(i) && i >= 0 && i <= n && n >= 1;
  const audible = Number.isFinite(fromGain) && Number.isFinite(toGain) && fromGain > 0 && toGain > 0;
  if (!(placed && audible)) refuse(i, n, fromGain, toGain);
  return fadeValue(i / n, fromGain, toGain, shape);
}

/** The formula of `fadeGain` at x = i/n, for callers whose values are known to be sound: a fade has thousands of samples. */
export function fadeValue(x: number, fromGain: number, toGain: number, shape: FadeShape): number {
  if (fromGain === toGain) return fromGain;
  switch (shape) {
    case 'linear':
      return fromGain + (toGain - fromGain) * x;
    case 'raisedCosine':
      return fromGain + (toGain - fromGain) * (0.5 - 0.5 * Math.cos(Math.PI * x));
    case 'decibel':
      return decibelFade(x, fromGain, toGain);
    default:
      checkChoice('fadeGain', 'shape', shape, FADE_SHAPES);
      return Number.NaN;
  }
}

/** Straight in dB. The ratio of two gains as far apart as doubles are is beyond a double. */
function decibelFade(x: number, fromGain: number, toGain: number): number {
  const ratio = toGain / fromGain;
  return ratio > 0 && Number.isFinite(ratio) ? fromGain * ratio ** x : fromGain ** (1 - x) * toGain ** x;
}

function refuse(i: number, n: number, fromGain: number, toGain: number): void {
  checkInteger('fadeGain', 'n', n, 1);
  checkNumber('fadeGain', 'i', i, 0, n);
  checkNumber('fadeGain', 'fromGain', fromGain, Number.MIN_VALUE);
  checkNumber('fadeGain', 'toGain', toGain, Number.MIN_VALUE);
}

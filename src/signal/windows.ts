import { checkChoice, checkInteger } from './check.js';
import type { Doubles } from './samples.js';

/** The windows that {@link createWindow} makes. */
export type WindowName = 'rectangular' | 'hann' | 'hamming' | 'blackman' | 'blackmanHarris' | 'sine';

/**
 * How a window ends. `periodic`: one period of a sequence that repeats every `length` samples (for spectra and
 * overlap-add). `symmetric`: first and last value equal (for filter design).
 */
export type WindowSymmetry = 'periodic' | 'symmetric';

/** Every window name. */
export const WINDOW_NAMES: readonly WindowName[] = Object.freeze([
  'rectangular',
  'hann',
  'hamming',
  'blackman',
  'blackmanHarris',
  'sine',
] as const);

const SYMMETRIES: readonly WindowSymmetry[] = Object.freeze(['periodic', 'symmetric'] as const);

/** Terms a0 − a1·cos φ + a2·cos 2φ − a3·cos 3φ of the cosine-sum windows. */
const COSINE_TERMS: Readonly<Record<Exclude<WindowName, 'sine'>, readonly number[]>> = Object.freeze({
  rectangular: [1],
  hann: [0.5, 0.5],
  hamming: [0.54, 0.46],
  blackman: [0.42, 0.5, 0.08],
  blackmanHarris: [0.35875, 0.48829, 0.14128, 0.01168],
});

/**
 * A window as a new array.
 *
 * Value n is a0 − a1·cos φ + a2·cos 2φ − a3·cos 3φ with φ = 2πn/D; the sine window is sin(φ/2). D is `length`
 * for a periodic window, whose peak stands at index length/2, and `length − 1` for a symmetric one.
 *
 * @param name Which window.
 * @param length Number of values, 1 to 2^24. A window of length 1 is [1], whatever its name.
 * @param symmetry `periodic` for spectra and overlap-add, `symmetric` for filter design. There is no default,
 * because taking one for the other is a common and silent mistake.
 * @returns `length` values between 0 and 1. Mirror images are exactly equal.
 * @throws TypeError or RangeError for an unknown name or symmetry or a length that is not such a whole number.
 * @see Harris, "On the Use of Windows for Harmonic Analysis with the Discrete Fourier Transform", 1978.
 * @example
 * import { createWindow } from 'lenition/signal';
 * Array.from(createWindow('hann', 3, 'symmetric')); // => [0, 1, 0]
 * createWindow('hann', 4, 'periodic')[2]; // => 1
 */
export function createWindow(name: WindowName, length: number, symmetry: WindowSymmetry): Doubles {
  checkChoice('createWindow', 'name', name, WINDOW_NAMES);
  checkInteger('createWindow', 'length', length, 1, 2 ** 24);
  checkChoice('createWindow', 'symmetry', symmetry, SYMMETRIES);
  const window = new Float64Array(length);
  if (length === 1) return window.fill(1);
  const period = symmetry === 'periodic' ? length : length - 1;
  for (let n = 0; 2 * n <= period; n++) {
    const value = windowValue(name, n / period);
    window[n] = value;
    // Copied, not computed again: rounding would make the two halves differ in the last bit.
    if (period - n < length) window[period - n] = value;
  }
  return window;
}

/** The window's value at `x`, the place within its period: 0 to 1. */
function windowValue(name: WindowName, x: number): number {
  if (name === 'sine') return Math.sin(Math.PI * x);
  let sum = 0;
  let sign = 1;
  COSINE_TERMS[name].forEach((term, k) => {
    sum += sign * term * Math.cos(2 * Math.PI * k * x);
    sign = -sign;
  });
  // The ends of the Blackman window come out as −1.4e-17.
  return Math.max(0, sum);
}

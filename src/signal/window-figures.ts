import { checkDoubles, rangeError } from './check.js';
import type { Doubles } from './samples.js';

/** What a window does to the level of a tone and of noise. */
export interface WindowFigures {
  /** Σw / N: the amplitude that the window leaves of a tone at a bin's centre, as a ratio. */
  readonly coherentGain: number;
  /** Σw² / N: the power that it leaves of noise, as a ratio. */
  readonly meanSquare: number;
  /** N·Σw² / (Σw)²: width of the rectangular filter that passes as much noise, in bins. */
  readonly noiseBandwidthBins: number;
}

/**
 * Coherent gain, mean square and equivalent noise bandwidth of a window: what turns power spectra into levels.
 *
 * @param window Values of the window, at least one, not summing to 0.
 * @throws TypeError unless it is a Float64Array; RangeError where it is empty or its sum is 0 or not finite.
 * @see Harris, "On the Use of Windows for Harmonic Analysis with the Discrete Fourier Transform", 1978.
 * @example
 * import { createWindow, windowFigures } from 'lenition/signal';
 * windowFigures(createWindow('rectangular', 8, 'periodic')).noiseBandwidthBins; // => 1
 */
export function windowFigures(window: Doubles): WindowFigures {
  checkDoubles('windowFigures', 'window', window);
  if (window.length === 0) throw rangeError('windowFigures', 'window.length', 'must be 1 or more', 0);
  let sum = 0;
  let sumOfSquares = 0;
  for (const value of window) {
    sum += value;
    sumOfSquares += value * value;
  }
  if (sum === 0 || !Number.isFinite(sum))
    throw rangeError('windowFigures', 'window', 'must have a finite sum other than 0', sum);
  const n = window.length;
  return Object.freeze({
    coherentGain: sum / n,
    meanSquare: sumOfSquares / n,
    noiseBandwidthBins: (n * sumOfSquares) / (sum * sum),
  });
}

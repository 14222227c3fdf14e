import { checkDoubles, checkInteger, rangeError } from './check.js';
import { pairPowersInto } from './pair-powers.js';
import type { Doubles } from './samples.js';
import { createRealTransform, createTransform } from './transform.js';

/**
 * Discrete Fourier transforms of one size N: X[k] = Σ x[n]·e^(−2πikn/N), unscaled; the inverses divide by N.
 * Complex arrays hold re, im, re, im …; the spectrum of a real frame holds bins 0 to N/2 only.
 *
 * No call allocates. Every array is a Float64Array of exactly the stated length (other kinds would slow all
 * transforms of the process down), and none may be handed in twice in one call. Scratch memory is shared between
 * calls, so a plan serves one thread; calls do not remember one another.
 */
export interface FftPlan {
  /** N. */
  readonly size: number;
  /** N/2 + 1: bins of a real frame's spectrum. */
  readonly binCount: number;
  /** Frame of N reals into a spectrum of N + 2 values (N/2 + 1 complex bins). */
  forwardReal(frame: Doubles, spectrum: Doubles): void;
  /** Spectrum of N + 2 values into a frame of N reals. Imaginary parts of bins 0 and N/2 are not read. */
  inverseReal(spectrum: Doubles, frame: Doubles): void;
  /** N complex values (2N numbers) into N complex bins. */
  forwardComplex(values: Doubles, spectrum: Doubles): void;
  /** N complex bins (2N numbers) into N complex values. */
  inverseComplex(spectrum: Doubles, values: Doubles): void;
  /** Frame of N reals into the N/2 + 1 powers |X[k]|². */
  powerSpectrum(frame: Doubles, power: Doubles): void;
  /**
   * Powers of two real frames by one complex transform: about half the work. A frame near silence carries an
   * error of about 1e-16 of the greatest power of the pair, so which frames are paired shows in the last digits.
   */
  powerSpectraOfPair(frameA: Doubles, frameB: Doubles, powerA: Doubles, powerB: Doubles): void;
}

/**
 * Makes the tables for Fourier transforms of one size. A plan costs about three transforms: make it once, keep it.
 *
 * @param size N: a power of two, 2 to 2^24.
 * @throws TypeError or RangeError for any other size. The methods throw TypeError for an array that is not a
 * Float64Array, RangeError for one of another length or one that is handed in twice.
 * @see Cooley and Tukey, "An Algorithm for the Machine Calculation of Complex Fourier Series", 1965.
 * @example
 * import { createFftPlan } from 'lenition/signal';
 * const plan = createFftPlan(4);
 * const power = new Float64Array(3);
 * plan.powerSpectrum(Float64Array.of(2, 0, 0, 0), power);
 * Array.from(power); // => [4, 4, 4]
 */
export function createFftPlan(size: number): FftPlan {
  checkInteger('createFftPlan', 'size', size, 2, 2 ** 24);
  if ((size & (size - 1)) !== 0) throw rangeError('createFftPlan', 'size', 'must be a power of two', size);
  const transform = createTransform(size);
  const real = createRealTransform(size, transform);
  const binCount = size / 2 + 1;
  // Made when first needed: complex transforms need neither.
  let inputMade: Doubles | undefined;
  let outputMade: Doubles | undefined;
  const inputOf = (): Doubles => (inputMade ??= new Float64Array(2 * size));
  const outputOf = (): Doubles => (outputMade ??= new Float64Array(2 * size));

  return Object.freeze({
    size,
    binCount,
    forwardReal(frame: Doubles, spectrum: Doubles): void {
      checkArray('forwardReal', 'frame', frame, size);
      checkArray('forwardReal', 'spectrum', spectrum, size + 2);
      real.forward(frame, spectrum);
    },
    inverseReal(spectrum: Doubles, frame: Doubles): void {
      checkArray('inverseReal', 'spectrum', spectrum, size + 2);
      checkArray('inverseReal', 'frame', frame, size);
      real.inverse(spectrum, frame);
    },
    forwardComplex(values: Doubles, spectrum: Doubles): void {
      checkArray('forwardComplex', 'values', values, 2 * size);
      checkArray('forwardComplex', 'spectrum', spectrum, 2 * size);
      checkApart('forwardComplex', 'spectrum', values, spectrum);
      transform.transform(spectrum, values);
    },
    inverseComplex(spectrum: Doubles, values: Doubles): void {
      checkArray('inverseComplex', 'spectrum', spectrum, 2 * size);
      checkArray('inverseComplex', 'values', values, 2 * size);
      checkApart('inverseComplex', 'values', spectrum, values);
      transform.inverseTransform(values, spectrum);
    },
    powerSpectrum(frame: Doubles, power: Doubles): void {
      checkArray('powerSpectrum', 'frame', frame, size);
      checkArray('powerSpectrum', 'power', power, binCount);
      const output = outputOf();
      transform.realTransform(output, frame);
      for (let k = 0; k < binCount; k++) {
        const re = output[2 * k] as number;
        const im = output[2 * k + 1] as number;
        power[k] = re * re + im * im;
      }
    },
    powerSpectraOfPair(frameA: Doubles, frameB: Doubles, powerA: Doubles, powerB: Doubles): void {
      checkArray('powerSpectraOfPair', 'frameA', frameA, size);
      checkArray('powerSpectraOfPair', 'frameB', frameB, size);
      checkArray('powerSpectraOfPair', 'powerA', powerA, binCount);
      checkArray('powerSpectraOfPair', 'powerB', powerB, binCount);
      checkApart('powerSpectraOfPair', 'powerB', powerA, powerB);
      const input = inputOf();
      const output = outputOf();
      for (let n = 0; n < size; n++) {
        input[2 * n] = frameA[n] as number;
        input[2 * n + 1] = frameB[n] as number;
      }
      transform.transform(output, input);
      pairPowersInto(output, powerA, powerB, 1);
    },
  });
}

function checkArray(method: string, parameter: string, array: Doubles, length: number): void {
  checkDoubles(`FftPlan.${method}`, parameter, array, length);
}

function checkApart(method: string, parameter: string, first: Doubles, second: Doubles): void {
  if (first === second)
    throw rangeError(`FftPlan.${method}`, parameter, 'must be another array than the one before it', second);
}

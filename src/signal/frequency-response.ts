import type { BiquadCoefficients } from './biquad-design.js';
import { type BiquadSections, sectionList } from './biquad-filter.js';
import { checkNumber, checkObject, checkSampleRate, typeError } from './check.js';
import type { Doubles } from './samples.js';

/** A filter's complex response, one value per frequency. */
export interface ComplexResponse {
  /** Real parts. */
  readonly real: Doubles;
  /** Imaginary parts. */
  readonly imaginary: Doubles;
}

/** The rate at which a filter runs. */
export interface ResponseOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

/**
 * Complex response of one or several sections in a row: the product of
 * (b0 + b1·z⁻¹ + b2·z⁻²) / (1 + a1·z⁻¹ + a2·z⁻²) at z = e^(2πif/rate).
 *
 * @param sections Coefficients, at least one section.
 * @param frequenciesHz Frequencies, each 0 to half the sample rate; none give empty arrays.
 * @param options Sample rate.
 * @throws TypeError or RangeError for values outside the stated ranges. A pole on the unit circle, asked for at its own
 * frequency, gives NaN or Infinity.
 * @see Oppenheim and Schafer, "Discrete-Time Signal Processing" (response of a rational system).
 * @example
 * import { frequencyResponse } from 'lenition/signal';
 * const average = { b0: 0.5, b1: 0.5, b2: 0, a1: 0, a2: 0 };
 * const { real } = frequencyResponse(average, [0], { sampleRateHz: 48000 });
 * Array.from(real); // => [1]
 */
export function frequencyResponse(
  sections: BiquadSections,
  frequenciesHz: Doubles | readonly number[],
  options: ResponseOptions,
): ComplexResponse {
  return responseOf('frequencyResponse', sections, frequenciesHz, options);
}

/**
 * Gain of one or several sections in a row in dB: 20·log10 |H|.
 *
 * @param sections Coefficients, at least one section.
 * @param frequenciesHz Frequencies, each 0 to half the sample rate; none give an empty array.
 * @param options Sample rate.
 * @returns One level in dB per frequency; −Infinity where the filter passes nothing.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Oppenheim and Schafer, "Discrete-Time Signal Processing" (response of a rational system).
 * @example
 * import { magnitudeResponseDb } from 'lenition/signal';
 * const tenfold = { b0: 10, b1: 0, b2: 0, a1: 0, a2: 0 };
 * Array.from(magnitudeResponseDb(tenfold, [100, 1000], { sampleRateHz: 48000 })); // => [20, 20]
 */
export function magnitudeResponseDb(
  sections: BiquadSections,
  frequenciesHz: Doubles | readonly number[],
  options: ResponseOptions,
): Doubles {
  const { real, imaginary } = responseOf('magnitudeResponseDb', sections, frequenciesHz, options);
  return real.map((re, i) => 20 * Math.log10(Math.hypot(re, imaginary[i] as number)));
}

function responseOf(
  functionName: string,
  sections: BiquadSections,
  frequenciesHz: Doubles | readonly number[],
  options: ResponseOptions,
): ComplexResponse {
  const list = sectionList(functionName, sections);
  if (!(Array.isArray(frequenciesHz) || frequenciesHz instanceof Float64Array))
    throw typeError(functionName, 'frequenciesHz', 'must be an array or a Float64Array', frequenciesHz);
  checkObject(functionName, 'options', options);
  checkSampleRate(functionName, options.sampleRateHz);
  const real = new Float64Array(frequenciesHz.length);
  const imaginary = new Float64Array(frequenciesHz.length);
  for (let i = 0; i < frequenciesHz.length; i++) {
    const frequencyHz = frequenciesHz[i] as number;
    checkNumber(functionName, `frequenciesHz[${i}]`, frequencyHz, 0, options.sampleRateHz / 2);
    let re = 1;
    let im = 0;
    for (const section of list) {
      const [sectionRe, sectionIm] = sectionResponse(
        section,
        (2 * Math.PI * frequencyHz) / options.sampleRateHz,
      );
      [re, im] = [re * sectionRe - im * sectionIm, re * sectionIm + im * sectionRe];
    }
    real[i] = re;
    imaginary[i] = im;
  }
  return Object.freeze({ real, imaginary });
}

/** Response of one section at an angle in radians per sample: numerator over denominator. */
function sectionResponse({ b0, b1, b2, a1, a2 }: BiquadCoefficients, angle: number): [number, number] {
  const cos1 = Math.cos(angle);
  const sin1 = -Math.sin(angle);
  const cos2 = Math.cos(2 * angle);
  const sin2 = -Math.sin(2 * angle);
  const topRe = b0 + b1 * cos1 + b2 * cos2;
  const topIm = b1 * sin1 + b2 * sin2;
  const bottomRe = 1 + a1 * cos1 + a2 * cos2;
  const bottomIm = a1 * sin1 + a2 * sin2;
  const scale = bottomRe * bottomRe + bottomIm * bottomIm;
  return [(topRe * bottomRe + topIm * bottomIm) / scale, (topIm * bottomRe - topRe * bottomIm) / scale];
}

import { checkInteger, checkNumber, checkSampleRate, rangeError } from '../signal/check.js';

/**
 * A time as a sample position: round(seconds · sampleRateHz), to the nearest sample, halves up (towards plus
 * infinity). The only place where the library turns seconds into positions.
 *
 * @param seconds a finite time in seconds, negative allowed (an offset between clips)
 * @param sampleRateHz samples a second, 8,000 to 192,000
 * @throws RangeError where a value is not finite or the position is not a safe integer; TypeError where it is not
 * a number
 *
 * @example
 * import { secondsToSamples } from 'lenition/regions';
 * secondsToSamples(0.001, 44100); // => 44
 * secondsToSamples(0.5 / 48000, 48000); // => 1
 * secondsToSamples(-0.5 / 48000, 48000); // => 0
 */
export function secondsToSamples(seconds: number, sampleRateHz: number): number {
  return samplesOfSeconds('secondsToSamples', 'seconds', seconds, sampleRateHz);
}

/** The same for another function's parameter, whose names the messages then carry. */
export function samplesOfSeconds(
  functionName: string,
  parameter: string,
  seconds: number,
  sampleRateHz: number,
): number {
  checkNumber(functionName, parameter, seconds);
  checkSampleRate(functionName, sampleRateHz);
  // Adding 0 makes 0 of the −0 that rounding a small negative time gives.
  const samples = Math.round(seconds * sampleRateHz) + 0;
  if (!Number.isSafeInteger(samples))
    throw rangeError(functionName, parameter, 'must give a position within ±(2^53 − 1) samples', seconds);
  return samples;
}

/**
 * A sample position as a time: samples / sampleRateHz, in seconds, unrounded. `secondsToSamples` gives the same
 * position back for every position up to 2^51 (at 192 kHz: 371 years).
 *
 * @param samples a position, in samples
 * @param sampleRateHz samples a second, 8,000 to 192,000
 * @throws RangeError where the position is not a safe integer or the rate out of range; TypeError where it is not a
 * number
 *
 * @example
 * import { samplesToSeconds } from 'lenition/regions';
 * samplesToSeconds(24000, 48000); // => 0.5
 */
export function samplesToSeconds(samples: number, sampleRateHz: number): number {
  checkInteger('samplesToSeconds', 'samples', samples);
  checkSampleRate('samplesToSeconds', sampleRateHz);
  return samples / sampleRateHz;
}

/**
 * The most whole samples that a stretch of time holds: floor(seconds · sampleRateHz). For a reach that must not be
 * exceeded, where the nearest sample could lie half a sample too far.
 *
 * @param seconds a finite time in seconds, at least 0
 * @param sampleRateHz samples a second, 8,000 to 192,000
 * @throws RangeError or TypeError where a value is not as stated
 *
 * @example
 * import { samplesWithin } from 'lenition/regions';
 * samplesWithin(0.0009, 48000); // => 43
 */
export function samplesWithin(seconds: number, sampleRateHz: number): number {
  checkNumber('samplesWithin', 'seconds', seconds, 0);
  checkSampleRate('samplesWithin', sampleRateHz);
  return Math.min(Math.floor(seconds * sampleRateHz), Number.MAX_SAFE_INTEGER);
}

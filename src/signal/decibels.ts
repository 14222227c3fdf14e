import { checkNumber, rangeError, typeError } from './check.js';

/**
 * Amplitude ratio of a level in decibels: 10^(dB / 20).
 *
 * @param decibels Level in dB. −Infinity gives 0.
 * @returns Ratio, 0 or more.
 * @throws TypeError for anything but a number; RangeError for NaN and +Infinity.
 * @example
 * import { amplitudeFromDecibels } from 'lenition/signal';
 * amplitudeFromDecibels(-20); // => 0.1
 * amplitudeFromDecibels(-Infinity); // => 0
 */
export function amplitudeFromDecibels(decibels: number): number {
  return 10 ** (checkedDecibels('amplitudeFromDecibels', decibels) / 20);
}

/**
 * Power ratio of a level in decibels: 10^(dB / 10).
 *
 * @param decibels Level in dB. −Infinity gives 0.
 * @returns Ratio, 0 or more.
 * @throws TypeError for anything but a number; RangeError for NaN and +Infinity.
 * @example
 * import { powerFromDecibels } from 'lenition/signal';
 * powerFromDecibels(20); // => 100
 */
export function powerFromDecibels(decibels: number): number {
  return 10 ** (checkedDecibels('powerFromDecibels', decibels) / 10);
}

/**
 * Level of an amplitude ratio: 20·log10(amplitude).
 *
 * @param amplitude Ratio, 0 or more (a magnitude: the sign of a sample must be taken off first). 0 gives −Infinity.
 * @returns Level in dB.
 * @throws TypeError for anything but a number; RangeError for a negative value, NaN and Infinity.
 * @example
 * import { decibelsFromAmplitude } from 'lenition/signal';
 * decibelsFromAmplitude(10); // => 20
 * decibelsFromAmplitude(0); // => -Infinity
 */
export function decibelsFromAmplitude(amplitude: number): number {
  checkNumber('decibelsFromAmplitude', 'amplitude', amplitude, 0);
  return 20 * Math.log10(amplitude);
}

/**
 * Level of a power ratio: 10·log10(power).
 *
 * @param power Ratio, 0 or more. 0 gives −Infinity.
 * @returns Level in dB.
 * @throws TypeError for anything but a number; RangeError for a negative value, NaN and Infinity.
 * @example
 * import { decibelsFromPower } from 'lenition/signal';
 * decibelsFromPower(100); // => 20
 * decibelsFromPower(0); // => -Infinity
 */
export function decibelsFromPower(power: number): number {
  checkNumber('decibelsFromPower', 'power', power, 0);
  return 10 * Math.log10(power);
}

/** −Infinity is a level (silence), so the finite check of `checkNumber` would refuse too much. */
function checkedDecibels(functionName: string, decibels: number): number {
  if (typeof decibels !== 'number') throw typeError(functionName, 'decibels', 'must be a number', decibels);
  if (!(decibels < Number.POSITIVE_INFINITY))
    throw rangeError(functionName, 'decibels', 'must be finite or -Infinity', decibels);
  return decibels;
}

import { checkDoubles, checkNumber } from './check.js';
import type { Doubles } from './samples.js';

/** Puts 1 kHz at 0 dB. */
const OFFSET_DB = 18.246265068039158;

/**
 * BS.468 noise weighting at one frequency, in dB: the curve of how annoying noise is, +12.2 dB at 6.3 kHz, whose hump
 * from 5 to 9 kHz lies on /s/. It is the response of the standard's passive network in closed form; it keeps to the
 * standard's table within its tolerances from 31.5 Hz to 31.5 kHz.
 *
 * @param frequencyHz Frequency in Hz, 0 to 96,000. 0 gives −Infinity.
 * @returns Weight in dB, 0 at 1 kHz.
 * @throws TypeError or RangeError for any other frequency.
 * @see ITU-R BS.468-4, "Measurement of audio-frequency noise voltage level in sound broadcasting".
 * @example
 * import { bs468WeightingDb } from 'lenition/signal';
 * bs468WeightingDb(6300).toFixed(1); // => "12.2"
 */
export function bs468WeightingDb(frequencyHz: number): number {
  checkNumber('bs468WeightingDb', 'frequencyHz', frequencyHz, 0, 96000);
  const square = frequencyHz * frequencyHz;
  // Even and odd powers of the network's sixth-degree denominator.
  const even =
    ((-4.737338981378384e-24 * square + 2.043828333606125e-15) * square - 1.363894795463638e-7) * square + 1;
  const odd =
    ((1.306612257412824e-19 * square - 2.118150887518656e-11) * square + 5.559488023498643e-4) * frequencyHz;
  const gain = (1.246332637532143e-4 * frequencyHz) / Math.hypot(even, odd);
  return OFFSET_DB + 20 * Math.log10(gain);
}

/**
 * Level of a power spectrum under BS.468 weighting, in dB: 10·log10 Σ P·10^(W/10). It takes the mean power, so it
 * equals the standard's weighting but not its quasi-peak meter.
 *
 * @param power Power of each bin, 0 or more, in any scale: the level refers to power 1 at 1 kHz.
 * @param frequenciesHz Frequency of each bin in Hz, as many as there are powers, each 0 to 96,000.
 * @returns Level in dB; −Infinity for an empty or silent spectrum.
 * @throws TypeError or RangeError for wrong arrays or a negative, NaN or infinite power (with its index).
 * @see ITU-R BS.468-4, "Measurement of audio-frequency noise voltage level in sound broadcasting".
 * @example
 * import { bs468LevelDb } from 'lenition/signal';
 * const toneAt1k = bs468LevelDb(Float64Array.of(0, 1, 0), Float64Array.of(0, 1000, 2000));
 * Math.abs(toneAt1k) < 0.01; // => true
 */
export function bs468LevelDb(power: Doubles, frequenciesHz: Doubles): number {
  checkDoubles('bs468LevelDb', 'power', power);
  checkDoubles('bs468LevelDb', 'frequenciesHz', frequenciesHz, power.length);
  let sum = 0;
  for (let k = 0; k < power.length; k++) {
    const value = power[k] as number;
    checkNumber('bs468LevelDb', `power[${k}]`, value, 0);
    sum += value * 10 ** (bs468WeightingDb(frequenciesHz[k] as number) / 10);
  }
  return 10 * Math.log10(sum);
}

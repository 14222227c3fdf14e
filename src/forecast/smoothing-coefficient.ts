import { checkNumber, checkObject, checkSampleRate } from '../signal/check.js';

/**
 * Coefficient α = e^(−1/(τ·rate)) of a one-pole smoother y[n] = α·y[n−1] + (1 − α)·x[n] with time constant τ: after τ
 * seconds it has done 1 − 1/e = 63.2 % of a step.
 *
 * @param timeSeconds τ in seconds, 0 or more; 0 gives 0 (it follows at once).
 * @param options `sampleRateHz`: 8,000 to 192,000.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Giannoulis, Massberg and Reiss, "Digital Dynamic Range Compressor Design — A Tutorial and Analysis", Journal of
 * the Audio Engineering Society 60(6), 2012.
 * @example
 * import { smoothingCoefficient } from 'lenition/forecast';
 * smoothingCoefficient(0.01, { sampleRateHz: 48000 }).toFixed(10); // => '0.9979188353'
 */
export function smoothingCoefficient(
  timeSeconds: number,
  options: { readonly sampleRateHz: number },
): number {
  checkNumber('smoothingCoefficient', 'timeSeconds', timeSeconds, 0);
  checkObject('smoothingCoefficient', 'options', options);
  checkSampleRate('smoothingCoefficient', options.sampleRateHz);
  return timeSeconds === 0 ? 0 : Math.exp(-1 / (timeSeconds * options.sampleRateHz));
}

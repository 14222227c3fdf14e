import type { Doubles } from '../signal/samples.js';
import {
  binFromEdge,
  checkBand,
  checkPower,
  type FrequencyBand,
  sumOfBins,
  WHOLE_SPECTRUM,
} from './frequency-band.js';

/** Share of the band's mean power that every bin counts as having at least: −120 dB. */
const LEAST_SHARE = 1e-12;

/** Bins multiplied before a logarithm is taken. With each factor in [1e-12, bins], 16 stay far inside a double. */
const BINS_PER_LOGARITHM = 16;

/** A band whose mean power is not above this is silent: its reciprocal would leave the range of a double. */
const SILENT_POWER = 1e-300;

/**
 * Spectral flatness: geometric mean of the powers in a band over their arithmetic mean. Near 0 for a tone, e^−γ =
 * 0.5615 on average for one spectrum of white noise, 1 for bins of equal power.
 *
 * A bin counts as at least 1e-12 (−120 dB) of the band's mean. Below that a spectrum holds only the rounding of its
 * transform, and one exact zero would otherwise decide the result.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins to use. Leave out DC and half the rate for noise: they have one degree of freedom, not two.
 * @returns 1e-12 to 1; 0 for a silent band (mean power not above 1e-300) and for one without a bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Gray and Markel, "A spectral-flatness measure for studying the autocorrelation method of linear prediction
 * of speech analysis", 1974.
 * @example
 * import { spectralFlatness } from 'lenition/features';
 * spectralFlatness(Float64Array.of(1, 4, 1, 4), 1000); // => 0.8
 * spectralFlatness(new Float64Array(4), 1000); // => 0
 */
export function spectralFlatness(
  power: Doubles,
  binHz: number,
  band: FrequencyBand = WHOLE_SPECTRUM,
): number {
  checkPower('spectralFlatness', power, binHz);
  checkBand('spectralFlatness', 'band', band);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  return flatnessOfBins(power, first, binFromEdge(band.highHz, binHz, power.length));
}

/** Flatness of bins first to end − 1, with one logarithm per product of 16 bins. */
export function flatnessOfBins(power: Doubles, first: number, end: number): number {
  const mean = sumOfBins(power, first, end) / (end - first);
  if (!(mean > SILENT_POWER)) return 0;
  // Dividing by the mean first bounds every factor, so the products can neither overflow nor underflow.
  const scale = 1 / mean;
  let logarithms = 0;
  let k = first;
  while (k < end) {
    const stop = Math.min(k + BINS_PER_LOGARITHM, end);
    let product = 1;
    for (; k < stop; k++) {
      const share = (power[k] as number) * scale;
      product *= Math.max(share, LEAST_SHARE);
    }
    logarithms += Math.log(product);
  }
  return Math.min(1, Math.exp(logarithms / (end - first)));
}

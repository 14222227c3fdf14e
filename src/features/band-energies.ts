import { checkArray } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { binFromEdge, checkBand, checkPower, type FrequencyBand, sumOfBins } from './frequency-band.js';

/**
 * Energy of each band: the sum of the powers of its bins.
 *
 * Edge rule: a bin with its centre at f belongs to a band when lowHz ≤ f < highHz. Bands that share an edge share no
 * bin, and bands that cover the spectrum without gap sum to the whole. Bands may overlap.
 *
 * @param power Powers of bins 0 to N/2; the result has their unit.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param bands The bands, in any order.
 * @returns One sum per band, in the order of `bands`; 0 for a band without a bin, as above half the sample rate.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Common practice.
 * @example
 * import { bandEnergies } from 'lenition/features';
 * const power = Float64Array.of(1, 2, 3, 4, 5);
 * Array.from(bandEnergies(power, 1000, [{ lowHz: 0, highHz: 2000 }, { lowHz: 2000, highHz: 4000 }])); // => [3, 7]
 */
export function bandEnergies(power: Doubles, binHz: number, bands: readonly FrequencyBand[]): Doubles {
  checkPower('bandEnergies', power, binHz);
  checkArray('bandEnergies', 'bands', bands);
  const energies = new Float64Array(bands.length);
  bands.forEach((band: FrequencyBand, b) => {
    checkBand('bandEnergies', `bands[${b}]`, band);
    const first = binFromEdge(band.lowHz, binHz, power.length);
    energies[b] = sumOfBins(power, first, binFromEdge(band.highHz, binHz, power.length));
  });
  return energies;
}

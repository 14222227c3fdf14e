import type { Doubles } from '../signal/samples.js';
import { binFromEdge, checkBand, checkPower, type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';

/**
 * Spectral peak: the frequency of the strongest bin of a band, refined by a parabola through the logarithms of its
 * power and those of its two neighbours: k + (a − c) / (2·(a − 2b + c)), for a, b, c = ln P of k − 1, k, k + 1.
 *
 * The refinement is left out where a neighbour is missing, holds no power, or is the stronger one (which happens at
 * the edges of the band). Of equally strong bins the lowest is taken.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins among which the strongest is sought; its neighbours may lie outside.
 * @returns Frequency in Hz; 0 for a silent band and for one without a bin. For one sine in a Hann window without
 * zero padding the error is below 0.02 bins (closed form of that window's transform: 0.016).
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Smith and Serra, "PARSHL: An analysis/synthesis program for non-harmonic sounds based on a sinusoidal
 * representation", 1987.
 * @example
 * import { spectralPeak } from 'lenition/features';
 * spectralPeak(Float64Array.of(1, 2, 8, 2, 1), 1000); // => 2000
 */
export function spectralPeak(power: Doubles, binHz: number, band: FrequencyBand = WHOLE_SPECTRUM): number {
  checkPower('spectralPeak', power, binHz);
  checkBand('spectralPeak', 'band', band);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  return binHz * peakOfBins(power, first, binFromEdge(band.highHz, binHz, power.length));
}

/** Refined place of the strongest of bins first to end − 1, in bins; 0 when they hold no power. */
export function peakOfBins(power: Doubles, first: number, end: number): number {
  let peak = 0;
  let greatest = 0;
  for (let k = first; k < end; k++) {
    const p = power[k] as number;
    if (p > greatest) {
      greatest = p;
      peak = k;
    }
  }
  const below = power[peak - 1] ?? 0;
  const above = power[peak + 1] ?? 0;
  if (!(below > 0 && above > 0 && below <= greatest && above <= greatest)) return peak;
  // Ratios first: the logarithms of a and c relative to b are all that the parabola needs.
  const a = Math.log(below / greatest);
  const c = Math.log(above / greatest);
  return a + c < 0 ? peak + (a - c) / (2 * (a + c)) : peak;
}

import type { Doubles } from '../signal/samples.js';
import { binFromEdge, checkBand, checkPower, type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';

/**
 * Spectral centroid (first spectral moment, centre of gravity): Σ f·P / Σ P, in Hz.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins to use.
 * @returns Frequency in Hz, within the band; 0 for a silent band and for one without a bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Forrest, Weismer, Milenkovic and Dougall, "Statistical analysis of word-initial voiceless obstruents:
 * Preliminary data", 1988.
 * @example
 * import { spectralCentroid } from 'lenition/features';
 * spectralCentroid(Float64Array.of(0, 1, 0, 3), 1000); // => 2500
 */
export function spectralCentroid(
  power: Doubles,
  binHz: number,
  band: FrequencyBand = WHOLE_SPECTRUM,
): number {
  checkPower('spectralCentroid', power, binHz);
  checkBand('spectralCentroid', 'band', band);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  return binHz * centroidOfBins(power, first, binFromEdge(band.highHz, binHz, power.length));
}

/** Centroid of bins first to end − 1, in bins; 0 when they hold no power. */
export function centroidOfBins(power: Doubles, first: number, end: number): number {
  let total = 0;
  let weighted = 0;
  for (let k = first; k < end; k++) {
    const p = power[k] as number;
    total += p;
    weighted += k * p;
  }
  return total > 0 ? weighted / total : 0;
}

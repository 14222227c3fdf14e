import { rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { binFromEdge, checkBand, checkPower, type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';

/**
 * Spectral flux: how much of a frame's spectrum is new since the frame before,
 * Σ max(0, |X_t| − |X_t−1|) / Σ |X_t| over the bins' magnitudes |X| = √P.
 *
 * The numerator is the half-wave rectified flux of onset detection; dividing by the present magnitudes makes it free
 * of the recording's level. 0 where nothing rises, 1 where sound follows silence; a step from gain g to gain h > g
 * gives 1 − g/h, a step down 0.
 *
 * @param power Powers of bins 0 to N/2 of the present frame.
 * @param previousPower The same of the frame before, on the same scale; null for the first frame, which gives 0.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins to use.
 * @returns 0 to 1; 0 for a silent present frame and for a band without a bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin, spectra of unequal length or a
 * wrong band.
 * @see Dixon, "Onset detection revisited", 2006, for the numerator; the division is ours.
 * @example
 * import { spectralFlux } from 'lenition/features';
 * spectralFlux(Float64Array.of(4, 16), Float64Array.of(1, 4), 1000); // => 0.5
 * spectralFlux(Float64Array.of(4, 16), null, 1000); // => 0
 */
export function spectralFlux(
  power: Doubles,
  previousPower: Doubles | null,
  binHz: number,
  band: FrequencyBand = WHOLE_SPECTRUM,
): number {
  checkPower('spectralFlux', power, binHz);
  checkBand('spectralFlux', 'band', band);
  if (previousPower === null) return 0;
  checkPower('spectralFlux', previousPower, binHz);
  if (previousPower.length !== power.length)
    throw rangeError('spectralFlux', 'previousPower.length', `must be ${power.length}`, previousPower.length);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  return fluxOfBins(power, previousPower, first, binFromEdge(band.highHz, binHz, power.length));
}

/** Flux over bins first to end − 1. */
export function fluxOfBins(power: Doubles, previousPower: Doubles, first: number, end: number): number {
  let risen = 0;
  let total = 0;
  for (let k = first; k < end; k++) {
    const p = power[k] as number;
    const before = previousPower[k] as number;
    const magnitude = Math.sqrt(p);
    total += magnitude;
    if (p > before) risen += magnitude - Math.sqrt(before);
  }
  return total > 0 ? risen / total : 0;
}

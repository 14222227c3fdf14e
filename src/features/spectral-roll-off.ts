import { checkFields, checkNumber, checkObject } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import {
  binFromEdge,
  checkBand,
  checkPower,
  type FrequencyBand,
  sumOfBins,
  WHOLE_SPECTRUM,
} from './frequency-band.js';

/** Settings of {@link spectralRollOff}. */
export interface SpectralRollOffOptions {
  /** Share of the band's power, above 0 to 1. Default 0.85, the usual choice in the field (common practice). */
  readonly share?: number;
  /** Bins to use. Default: all. */
  readonly band?: FrequencyBand;
}

/**
 * Spectral roll-off: the lowest bin frequency at or below which the stated share of the band's power lies.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param options Share and band.
 * @returns Frequency of a bin in Hz; 0 for a silent band and for one without a bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin, a wrong band or share.
 * @see Scheirer and Slaney, "Construction and evaluation of a robust multifeature speech/music discriminator", 1997
 * (there with a share of 0.95).
 * @example
 * import { spectralRollOff } from 'lenition/features';
 * spectralRollOff(Float64Array.of(1, 1, 1, 1), 1000, { share: 0.5 }); // => 1000
 */
export function spectralRollOff(power: Doubles, binHz: number, options: SpectralRollOffOptions = {}): number {
  checkObject('spectralRollOff', 'options', options);
  checkFields('spectralRollOff', 'options', options, ['share', 'band']);
  const { share = 0.85, band = WHOLE_SPECTRUM } = options;
  checkPower('spectralRollOff', power, binHz);
  checkNumber('spectralRollOff', 'options.share', share, Number.MIN_VALUE, 1);
  checkBand('spectralRollOff', 'options.band', band);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  return binHz * rollOffOfBins(power, first, binFromEdge(band.highHz, binHz, power.length), share);
}

/** The bin among first to end − 1 at which the sum reaches `share` of the whole; 0 when they hold no power. */
export function rollOffOfBins(power: Doubles, first: number, end: number, share: number): number {
  const goal = share * sumOfBins(power, first, end);
  if (!(goal > 0)) return 0;
  let sum = 0;
  let k = first;
  // Same order of addition as in the total, so that a share of 1 is reached inside the band.
  for (; k < end - 1; k++) {
    sum += power[k] as number;
    if (sum >= goal) return k;
  }
  return k;
}

import type { Doubles } from '../signal/samples.js';
import { type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';
import { momentsOf } from './spectral-moments.js';

/**
 * Spectral spread: the standard deviation of the spectrum about its centroid, √(Σ (f − centroid)²·P / Σ P), in Hz.
 * It is the root of the second spectral moment. Sibilants are narrow (1.7–1.8 kHz), f and th wide (2.5 kHz): from
 * the moments in Jongman, Wayland and Wong, "Acoustic characteristics of English fricatives", 2000.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins to use.
 * @returns Spread in Hz; 0 for a single line, a silent band and one without a bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Forrest, Weismer, Milenkovic and Dougall, "Statistical analysis of word-initial voiceless obstruents:
 * Preliminary data", 1988.
 * @example
 * import { spectralSpread } from 'lenition/features';
 * spectralSpread(Float64Array.of(0, 1, 0, 1), 1000); // => 1000
 */
export function spectralSpread(power: Doubles, binHz: number, band: FrequencyBand = WHOLE_SPECTRUM): number {
  return momentsOf('spectralSpread', power, binHz, band).spreadHz;
}

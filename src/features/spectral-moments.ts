import type { Doubles } from '../signal/samples.js';
import { binFromEdge, checkBand, checkPower, type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';
import { centroidOfBins } from './spectral-centroid.js';

/** The four spectral moments. */
export interface SpectralMoments {
  /** M1 = Σ f·P, in Hz. */
  readonly centroidHz: number;
  /** √M2, M2 = Σ (f − M1)²·P, in Hz. */
  readonly spreadHz: number;
  /** M3 = Σ (f − M1)³·P / M2^1.5, no unit: above 0 when the long tail lies above the centroid. */
  readonly skewness: number;
  /** M4 = Σ (f − M1)⁴·P / M2² − 3, no unit: 0 for the shape of a normal distribution, above 0 for a sharper peak. */
  readonly excessKurtosis: number;
}

/** Spread below which a spectrum is one line, in bins: its third and fourth moment would be rounding. */
const LEAST_SPREAD_BINS = 1e-8;

/**
 * Spectral moments: the spectrum, with its powers normalised to sum 1, taken as a distribution over frequency.
 *
 * @param power Powers of bins 0 to N/2, on any scale.
 * @param binHz Distance of the bins in Hz: sampleRateHz / N; above 0, at most 96,000.
 * @param band Bins to use.
 * @returns The moments; all 0 for a silent band and for one without a bin, the last two 0 when all power is in one
 * bin.
 * @throws TypeError or RangeError for a spectrum with a negative or non-finite bin or a wrong band.
 * @see Forrest, Weismer, Milenkovic and Dougall, "Statistical analysis of word-initial voiceless obstruents:
 * Preliminary data", 1988.
 * @example
 * import { spectralMoments } from 'lenition/features';
 * const moments = spectralMoments(Float64Array.of(0, 1, 0, 1), 1000);
 * moments.spreadHz; // => 1000
 * moments.excessKurtosis; // => -2
 */
export function spectralMoments(
  power: Doubles,
  binHz: number,
  band: FrequencyBand = WHOLE_SPECTRUM,
): SpectralMoments {
  return momentsOf('spectralMoments', power, binHz, band);
}

/** The same for another function, whose name the messages then carry. */
export function momentsOf(
  functionName: string,
  power: Doubles,
  binHz: number,
  band: FrequencyBand,
): SpectralMoments {
  checkPower(functionName, power, binHz);
  checkBand(functionName, 'band', band);
  const first = binFromEdge(band.lowHz, binHz, power.length);
  const end = binFromEdge(band.highHz, binHz, power.length);
  const centroid = centroidOfBins(power, first, end);
  const shape = new Float64Array(3);
  shapeOfBinsInto(shape, power, first, end, centroid);
  return {
    centroidHz: centroid * binHz,
    spreadHz: (shape[0] as number) * binHz,
    skewness: shape[1] as number,
    excessKurtosis: shape[2] as number,
  };
}

/** Spread (in bins), skewness and excess kurtosis of bins first to end − 1 about `centroid` (in bins). */
export function shapeOfBinsInto(
  out: Doubles,
  power: Doubles,
  first: number,
  end: number,
  centroid: number,
): void {
  let total = 0;
  let second = 0;
  let third = 0;
  let fourth = 0;
  for (let k = first; k < end; k++) {
    const p = power[k] as number;
    const distance = k - centroid;
    const square = distance * distance;
    total += p;
    second += p * square;
    third += p * square * distance;
    fourth += p * square * square;
  }
  const variance = total > 0 ? second / total : 0;
  const spread = Math.sqrt(variance);
  out[0] = spread;
  out[1] = spread < LEAST_SPREAD_BINS ? 0 : third / total / (variance * spread);
  out[2] = spread < LEAST_SPREAD_BINS ? 0 : fourth / total / (variance * variance) - 3;
}

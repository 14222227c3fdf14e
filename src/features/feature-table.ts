import type { FrameGrid } from '../signal/frame-grid.js';
import type { Doubles } from '../signal/samples.js';
import type { AnalysisSettings } from './analysis-options.js';

/** Every column that an analysis can hold: one value per frame. */
export interface FeatureColumns {
  /** RMS level in dBFS, without window; −Infinity for silence. See `level`. */
  readonly levelDb: Doubles;
  /** Zero crossings per second, both directions, without window. See `zeroCrossingRate`. */
  readonly zeroCrossingsPerSecond: Doubles;
  /** Flatness of `flatnessBand`, 0 to 1. See `spectralFlatness`. */
  readonly flatness: Doubles;
  /**
   * One column per band, in the order of `bands`: mean square of the signal inside the band (full scale = 1), so a
   * sine of amplitude A inside a band gives A²/2. See `bandEnergies`.
   */
  readonly bandEnergies: readonly Doubles[];
  /** Centroid of `spectrumBand` in Hz. See `spectralCentroid`. */
  readonly centroidHz: Doubles;
  /** Spread of `spectrumBand` in Hz. See `spectralSpread`. */
  readonly spreadHz: Doubles;
  /** Third spectral moment of `spectrumBand`. See `spectralMoments`. */
  readonly skewness: Doubles;
  /** Fourth spectral moment of `spectrumBand`, less 3. See `spectralMoments`. */
  readonly excessKurtosis: Doubles;
  /** Strongest frequency of `spectrumBand` in Hz. See `spectralPeak`. */
  readonly peakHz: Doubles;
  /** Roll-off of `spectrumBand` in Hz. See `spectralRollOff`. */
  readonly rollOffHz: Doubles;
  /** Flux of `spectrumBand` since the frame before, 0 to 1; frame 0 has 0. See `spectralFlux`. */
  readonly flux: Doubles;
  /** Periodicity at a voice's pitch, 0 to 1. See `periodicity`. */
  readonly periodicity: Doubles;
}

/** Name of a column. */
export type FeatureName = keyof FeatureColumns;

/** Every column name. */
export const FEATURE_NAMES: readonly FeatureName[] = Object.freeze([
  'levelDb',
  'zeroCrossingsPerSecond',
  'flatness',
  'bandEnergies',
  'centroidHz',
  'spreadHz',
  'skewness',
  'excessKurtosis',
  'peakHz',
  'rollOffHz',
  'flux',
  'periodicity',
] as const);

/** Features of a clip, frame by frame. */
export interface FeatureTable<F extends FeatureName = FeatureName> {
  /** Where the frames lie. Row k belongs to frame k, whose time `frameTimeSeconds(grid, k)` gives. */
  readonly grid: FrameGrid;
  /** The columns that it holds. */
  readonly features: readonly F[];
  /** The columns by name, each of grid.frameCount values. */
  readonly columns: Readonly<Pick<FeatureColumns, F>>;
  /** Every setting that made it, defaults included. */
  readonly settings: AnalysisSettings;
}

/** Columns of zeros for `rows` frames. */
export function createFeatureColumns<F extends FeatureName>(
  features: readonly F[],
  bandCount: number,
  rows: number,
): Pick<FeatureColumns, F> {
  const columns: Partial<Record<FeatureName, Doubles | readonly Doubles[]>> = {};
  for (const name of features)
    columns[name] =
      name === 'bandEnergies'
        ? Object.freeze(Array.from({ length: bandCount }, () => new Float64Array(rows)))
        : new Float64Array(rows);
  return columns as Pick<FeatureColumns, F>;
}

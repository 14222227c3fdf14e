/**
 * What a frame of sound measures, one feature a function, and `analyse`, which measures all of them in one pass. The detector does not need it.
 *
 * @packageDocumentation
 */
export { analyse } from './analyse.js';
export {
  type AnalysisOptions,
  type AnalysisParameters,
  type AnalysisSettings,
  DEFAULT_ANALYSIS_OPTIONS,
} from './analysis-options.js';
export { bandEnergies } from './band-energies.js';
export { FEATURE_NAMES, type FeatureColumns, type FeatureName, type FeatureTable } from './feature-table.js';
export { type FrequencyBand, WHOLE_SPECTRUM } from './frequency-band.js';
export { level } from './level.js';
export { periodicity } from './periodicity.js';
export { DEFAULT_PITCH_RANGE, type PitchRange } from './pitch-range.js';
export { spectralCentroid } from './spectral-centroid.js';
export { spectralFlatness } from './spectral-flatness.js';
export { spectralFlux } from './spectral-flux.js';
export { type SpectralMoments, spectralMoments } from './spectral-moments.js';
export { spectralPeak } from './spectral-peak.js';
export { type SpectralRollOffOptions, spectralRollOff } from './spectral-roll-off.js';
export { spectralSpread } from './spectral-spread.js';
export { zeroCrossingRate } from './zero-crossing-rate.js';

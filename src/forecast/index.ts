/**
 * A mix chain as data (compressor, equaliser, saturation), what it will do to each region, and the cut to make now.
 *
 * @packageDocumentation
 */
export {
  type BandPassSpec,
  type Chain,
  type CompressorSettings,
  type CompressorStage,
  DEFAULT_COMPRESSOR_SETTINGS,
  DEFAULT_SATURATION_SETTINGS,
  DETECTOR_KINDS,
  type DetectorKind,
  type EqualiserSettings,
  type EqualiserStage,
  FILTER_KINDS,
  type FilterSpec,
  type PassSpec,
  type PeakingSpec,
  SATURATION_CURVES,
  type SaturationCurve,
  type SaturationSettings,
  type SaturationStage,
  type ShelfSpec,
  SMOOTHINGS,
  type Smoothing,
  STAGE_KINDS,
  type Stage,
} from './chain.js';
export {
  type ChainSetting,
  type ChainSettingQuestion,
  chainSettingFor,
} from './chain-setting-for.js';
export { type CompressOptions, compress, compressionGain, createCompressor } from './compress.js';
export { type CompressionCurve, compressionGainAt } from './compression-curve.js';
export { COMPRESSOR_EFFECTS, type CompressorEffect } from './compressor-effect.js';
export { createChainProcessor } from './create-chain-processor.js';
export { createEqualiser, type EqualiseOptions, equalise } from './equalise.js';
export { filterSections } from './filter-sections.js';
export {
  type Forecast,
  type ForecastOptions,
  forecastRise,
  type RegionRise,
  type StageRise,
} from './forecast-rise.js';
export type { StageFigures } from './forecast-statement.js';
export {
  DEFAULT_KEYED_COMPRESSOR,
  type KeyedSpread,
  type KeyedSpreadOptions,
  keyedSpread,
  type ReductionSpread,
} from './keyed-spread.js';
export {
  DEFAULT_PREEMPTIVE_CUT_OPTIONS,
  type PreemptiveCut,
  type PreemptiveCutOptions,
  preemptiveCut,
  type UnreachedRegion,
} from './preemptive-cut.js';
export { CHAIN_PRESETS } from './presets.js';
export {
  type ChainOutput,
  type RunChainOptions,
  runChain,
  type StageOutput,
} from './run-chain.js';
export { createSaturation, type SaturateOptions, saturate } from './saturate.js';
export { type SaturationShape, saturateValue } from './saturation-curve.js';
export { smoothingCoefficient } from './smoothing-coefficient.js';
export type { StageProcessor, StreamOptions } from './stage-processor.js';

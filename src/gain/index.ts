/**
 * Decides gains, places edges and fades, and renders: whole clips, blocks, and cuts within a band.
 *
 * @packageDocumentation
 */
export { type BandChange, createBandChange } from './band-change.js';
export type { ReadSample } from './band-filter.js';
export { type BandGainRenderer, createBandGainRenderer } from './band-gain-renderer.js';
export { bandTransitionHz } from './band-kernel.js';
export { type BeforeAndAfter, beforeAndAfter } from './before-and-after.js';
export type { RegionChoice } from './change-gain.js';
export { DEFAULT_TAME_CYMBALS_OPTIONS, type TameCymbalsOptions } from './cymbal-options.js';
export {
  DEFAULT_EDGE_CLICK_OPTIONS,
  type EdgeClick,
  type EdgeClickOptions,
  edgeClicks,
} from './edge-clicks.js';
export { DEFAULT_EDGE_OPTIONS, type EdgeOptions } from './edge-options.js';
export { DEFAULT_EVENED_CUT_OPTIONS, type EvenedCutOptions, evenedCut } from './evened-cut.js';
export {
  DEFAULT_EXCERPT_OPTIONS,
  type Excerpt,
  type ExcerptOptions,
  type ExcerptPlace,
  excerpt,
} from './excerpt.js';
export { fadeGain } from './fade-gain.js';
export { DEFAULT_FIXED_CUT_OPTIONS, type FixedCutOptions, fixedCut } from './fixed-cut.js';
export { gainAt } from './gain-at.js';
export { DEFAULT_GAIN_AT_DEPTH_OPTIONS, type GainAtDepthOptions, gainAtDepth } from './gain-at-depth.js';
export { type GainBreakpoint, gainBreakpoints } from './gain-breakpoints.js';
export { gainCurveInto } from './gain-curve.js';
export { DEFAULT_KIND_CUTS, type DefaultCutsOptions, defaultCuts, type TakePart } from './kind-cuts.js';
export { DEFAULT_LEVELLED_CUT_OPTIONS, type LevelledCutOptions, levelledCut } from './levelled-cut.js';
export { DEFAULT_LOWER_NOISE_OPTIONS, type LowerNoiseOptions, lowerNoise } from './lower-noise.js';
export { DEFAULT_MARK_AND_CUT_OPTIONS, type MarkAndCutOptions, markAndCut } from './mark-and-cut.js';
export { DEFAULT_PHRASE_GAIN_OPTIONS, type PhraseGainOptions, phraseGain } from './phrase-gain.js';
export { placeEdges } from './place-edges.js';
export { removedSignal } from './removed-signal.js';
export { renderGain, renderGainInto } from './render-gain.js';
export { createGainRenderer, type GainRenderer, renderGainBlockInto } from './render-gain-block.js';
export {
  DEFAULT_SHORTENED_OPTIONS,
  type ShortenedFlag,
  type ShortenedOptions,
  shortenedFlags,
} from './shortened-flags.js';
export {
  DEFAULT_SOFTEN_BREATHS_OPTIONS,
  type SoftenBreathsOptions,
  softenBreaths,
} from './soften-breaths.js';
export { DEFAULT_STEP_GAIN_OPTIONS, type StepGainOptions, stepGain } from './step-gain.js';
export {
  type KindSummary,
  type SummaryOptions,
  summariseTake,
  type TakeSummary,
} from './summarise-take.js';
export { tameCymbals } from './tame-cymbals.js';

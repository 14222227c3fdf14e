/**
 * What each region measures beside its own voice, and how far it may be cut before it may be heard as another sound.
 *
 * @packageDocumentation
 */
export { DEFAULT_LEVEL_OPTIONS, type LevelOptions } from './level-options.js';
export { regionsLouderThan } from './louder-than.js';
export { measureLevels } from './measure-levels.js';
export { type OverCutFlag, overCutFlags } from './over-cut-flags.js';
export {
  DEFAULT_GUARD_OPTIONS,
  type GuardOptions,
  type OverCutFloor,
  overCutFloors,
} from './over-cut-floors.js';
export { DEFAULT_PHRASE_OPTIONS, type Phrase, type PhraseOptions, phrasesOf } from './phrases-of.js';
export type { LevelTable, RegionLevel, SibilantSound } from './region-level.js';
export { type SibilanceSpread, sibilanceSpread } from './sibilance-spread.js';
export { DEFAULT_SUGGEST_BAND_OPTIONS, type SuggestBandOptions, suggestBand } from './suggest-band.js';

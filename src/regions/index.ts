export { checkRegionList } from './check-region-list.js';
export { type ClipOptions, createRegionList } from './create-region-list.js';
export { editRegions, type RegionChange, type RegionIds } from './edit-regions.js';
export { HAND_REASON, insertRegion, REGION_DEFAULTS, type RegionDraft } from './insert-region.js';
export { insertRegions } from './insert-regions.js';
export { markRange } from './mark-range.js';
export { mergeRegions } from './merge-regions.js';
export { type EdgeMove, moveEdges } from './move-edges.js';
export { nextRegion, previousRegion } from './neighbour-regions.js';
export {
  FADE_SHAPES,
  type FadeShape,
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
  type Region,
  type RegionKind,
  type RegionList,
  type RegionReason,
} from './region.js';
export { regionAt } from './region-at.js';
export { regionById } from './region-by-id.js';
export { regionsBetween } from './regions-between.js';
export { regionsOfKind } from './regions-of-kind.js';
export { removeRegion } from './remove-region.js';
export { type Fades, setFades } from './set-fades.js';
export { setBypassed, setKind, setLabel, setLocked } from './set-flags.js';
export { type ReasonOption, setGain } from './set-gain.js';
export { SNAP_REGION_DEFAULTS, type SnapRegionOptions, snapRegion } from './snap-region.js';
export { type SnapOptions, snapToZeroCrossing } from './snap-to-zero-crossing.js';
export { splitRegion } from './split-region.js';
export { samplesToSeconds, samplesWithin, secondsToSamples } from './time.js';
export { totalSamples } from './total-samples.js';

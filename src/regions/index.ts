/**
 * The region and the region list: their rules, edits, queries, snapping, edit history, and time in samples, seconds and timecode. Knows nothing of
 * sound but for `snapToZeroCrossing` and `snapRegion`, which are given it.
 *
 * @packageDocumentation
 */
export { checkRegionList } from './check-region-list.js';
export { type ClipOptions, createRegionList } from './create-region-list.js';
export { editRegions, type RegionChange, type RegionIds } from './edit-regions.js';
export type { HandField } from './hand-edits.js';
export {
  DEFAULT_HISTORY_OPTIONS,
  type EditHistory,
  type EditSummary,
  type HistoryOptions,
  lastEdit,
  MOST_EDITS,
  type RecordedEdit,
  recordEdit,
  redo,
  startHistory,
  undo,
} from './history.js';
export { DEFAULT_REGION, HAND_REASON, insertRegion, type RegionDraft } from './insert-region.js';
export { insertRegions } from './insert-regions.js';
export { type JoinOptions, joinAcrossGaps } from './join-across-gaps.js';
export { markRange } from './mark-range.js';
export { mergeRegions } from './merge-regions.js';
export { type EdgeMove, moveEdges } from './move-edges.js';
export { nextRegion, previousRegion } from './neighbour-regions.js';
export { nudgeByFrames } from './nudge-by-frames.js';
export { type EdgeNudge, nudgeEdges } from './nudge-edges.js';
export {
  type AddedRegion,
  DEFAULT_RECONCILE_OPTIONS,
  type KeptRegion,
  type LostEdit,
  type Reconciled,
  type ReconcileOptions,
  reconcile,
} from './reconcile.js';
export {
  FADE_SHAPES,
  type FadeShape,
  LEAST_BAND_WIDTH_HZ,
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
  type Region,
  type RegionBand,
  type RegionKind,
  type RegionList,
  type RegionReason,
} from './region.js';
export { regionAt } from './region-at.js';
export { regionById } from './region-by-id.js';
export type { RegionCriteria } from './region-criteria.js';
export { regionsBetween } from './regions-between.js';
export { regionsOfKind } from './regions-of-kind.js';
export type { LostRegion, MovedList, MoveOptions } from './remap-regions.js';
export { removeRegion } from './remove-region.js';
export { selectRegions } from './select-regions.js';
export { setBand } from './set-band.js';
export { type Fades, setFades } from './set-fades.js';
export { setBypassed, setKind, setLabel, setLocked } from './set-flags.js';
export { type ReasonOption, setGain } from './set-gain.js';
export { shiftRegions } from './shift-regions.js';
export { DEFAULT_SNAP_REGION_OPTIONS, type SnapRegionOptions, snapRegion } from './snap-region.js';
export { type SnapOptions, snapToZeroCrossing } from './snap-to-zero-crossing.js';
export { splitRegion } from './split-region.js';
export { stretchRegions } from './stretch-regions.js';
export { samplesToSeconds, samplesWithin, secondsToSamples } from './time.js';
export { framesToSamples, samplesToTimecode, type Timecode, timecodeToSamples } from './timecode.js';
export { type FrameRate, TIMECODE_RATES, type TimecodeRate } from './timecode-rate.js';
export { framesToTimecode, timecodeToFrames } from './timecode-text.js';
export { totalSamples } from './total-samples.js';
export { trimRegion } from './trim-region.js';
export { DEFAULT_UNCERTAIN_CRITERIA, nextUncertain, previousUncertain } from './uncertain-regions.js';
export { type ChangedRegion, type ListChanges, whatChanged } from './what-changed.js';

/**
 * Scores against labels, errors of edges, how far confidence can be believed, and grids of settings.
 *
 * @packageDocumentation
 */
export { bestTradeOffs, type TradeOff } from './best-trade-offs.js';
export { type ConfusionTable, confusionTable } from './confusion-table.js';
export { type EdgeErrorFigures, type EdgeErrors, edgeErrors } from './edge-errors.js';
export { type ErrorCounts, type ErrorRates, errorRates, sumErrorCounts } from './error-counts.js';
export { eventScores } from './event-scores.js';
export { fMeasure } from './f-measure.js';
export { type JudgedRegion, judgeRegions } from './judge-regions.js';
export { meanOverLabels, type ScoredClip } from './label-mean.js';
export { EDGE_MATCH, type EdgeMatchOptions, matchByEdges } from './match-by-edges.js';
export { type Matching, matchByOverlap } from './match-by-overlap.js';
export { maximumMatching } from './maximum-matching.js';
export { mergeTouching } from './merge-touching.js';
export { type Misplacement, misplacement } from './misplacement.js';
export type { PhoneClass, PhoneEvent, PhoneFacts } from './phone-event.js';
export { type PhoneCount, type PhoneFigures, phoneFigures } from './phone-figures.js';
export {
  HARSH_KINDS,
  type JudgedEvent,
  PHONE_SCORING,
  type PhoneScoring,
  type PhoneSpan,
  type PhoneTally,
  phoneTally,
  sibilantSpans,
} from './phone-tally.js';
export { quantile } from './quantile.js';
export { type MeasuredRegion, type RegionEvent, regionEvents } from './region-events.js';
export { type JudgedDecision, type Reliability, type ReliabilityBin, reliability } from './reliability.js';
export {
  type SegmentCounts,
  type SegmentOptions,
  type SegmentRates,
  segmentRates,
  segmentScores,
} from './segment-scores.js';
export { settingsGrid } from './settings-grid.js';
export { overlapSeconds, type SoundEvent } from './sound-event.js';
export { secondsInside, type TimeSpan, unionOfSpans } from './time-spans.js';
export { voicedCutSeconds } from './voiced-cut.js';

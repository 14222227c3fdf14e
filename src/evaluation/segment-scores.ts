import {
  checkArray,
  checkFields,
  checkInteger,
  checkNumber,
  checkObject,
  rangeError,
} from '../signal/check.js';
import { checkCounts } from './check-spans.js';
import { COUNTS, type ErrorCounts } from './error-counts.js';
import { checkEvents, type SoundEvent, TIME_SLACK_SECONDS } from './sound-event.js';

/** How a clip is cut into segments. */
export interface SegmentOptions {
  /** Length of a segment in seconds, above 0; 1 by default. */
  readonly segmentSeconds: number;
  /** Length of the clip in seconds; by default up to the last end of either list. */
  readonly durationSeconds: number;
  /** Labels to count in silence as well; those that occur are always counted. */
  readonly labels: readonly string[];
}

/** Ten hours in segments of 10 ms are 3.6 million. */
const MOST_SEGMENTS = 10_000_000;

/** Counts over label-segments; those of several clips may be summed field by field. */
export interface SegmentCounts extends ErrorCounts {
  /** Label-segments that are active on neither side. */
  readonly trueNegatives: number;
}

/**
 * Segment-based counts of one clip. A label is active in every segment that one of its events touches. In each segment,
 * with FN the labels only in the reference and FP those only in the estimate: S = min(FN, FP), D = max(0, FN − FP),
 * I = max(0, FP − FN). `reference`, `estimate` and `hits` count active label-segments.
 *
 * Source: A. Mesaros, T. Heittola, T. Virtanen, Metrics for Polyphonic Sound Event Detection, Applied Sciences 6 (2016) 162.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { segmentScores } from 'lenition/evaluation';
 * const truth = [{ startSeconds: 0.5, endSeconds: 2.5, label: 's' }];
 * segmentScores(truth, []).deletions; // => 3
 */
export function segmentScores(
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: Partial<SegmentOptions> = {},
): SegmentCounts {
  checkObject('segmentScores', 'options', options);
  checkFields('segmentScores', 'options', options, ['segmentSeconds', 'durationSeconds', 'labels']);
  checkEvents('segmentScores', 'reference', reference);
  checkEvents('segmentScores', 'estimate', estimate);
  const length = options.segmentSeconds ?? 1;
  checkNumber('segmentScores', 'segmentSeconds', length, Number.MIN_VALUE);
  const events = [...reference, ...estimate];
  const end =
    options.durationSeconds ?? events.reduce((latest, event) => Math.max(latest, event.endSeconds), 0);
  checkNumber('segmentScores', 'durationSeconds', end, 0);
  checkArray('segmentScores', 'labels', options.labels ?? []);
  const labels = new Set([...(options.labels ?? []), ...events.map((event) => event.label)]);
  const count = Math.max(0, Math.ceil((end - TIME_SLACK_SECONDS) / length));
  if (count > MOST_SEGMENTS)
    throw rangeError(
      'segmentScores',
      'segmentSeconds',
      `must give at most ${MOST_SEGMENTS} segments`,
      length,
    );
  const truth = activeSegments(reference, length, count);
  const found = activeSegments(estimate, length, count);
  const sum = { hits: 0, substitutions: 0, deletions: 0, insertions: 0, reference: 0, estimate: 0 };
  for (let k = 0; k < count; k++) {
    const inTruth = truth[k] as ReadonlySet<string>;
    const inFound = found[k] as ReadonlySet<string>;
    const hits = [...inTruth].filter((label) => inFound.has(label)).length;
    const missed = inTruth.size - hits;
    const invented = inFound.size - hits;
    sum.hits += hits;
    sum.reference += inTruth.size;
    sum.estimate += inFound.size;
    sum.substitutions += Math.min(missed, invented);
    sum.deletions += Math.max(0, missed - invented);
    sum.insertions += Math.max(0, invented - missed);
  }
  const active = sum.reference + sum.estimate - sum.hits;
  return { ...sum, trueNegatives: count * labels.size - active };
}

/** Rates that need true negatives; a rate of nothing is null. */
export interface SegmentRates {
  /** Active segments that were found: TP / (TP + FN), 0 to 1. */
  readonly sensitivity: number | null;
  /** Silent segments that stayed silent: TN / (TN + FP), 0 to 1. */
  readonly specificity: number | null;
  /** (TP + TN) / all, 0 to 1. */
  readonly accuracy: number | null;
  /** Mean of sensitivity and specificity. */
  readonly balancedAccuracy: number | null;
}

/**
 * Sensitivity, specificity and accuracy of segment counts, (TP + TN) / all and their parts. Throws a RangeError or TypeError for a
 * count that is no whole number from 0 on, or more hits than there are active segments.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { segmentRates, segmentScores } from 'lenition/evaluation';
 * const truth = [{ startSeconds: 0, endSeconds: 1, label: 's' }];
 * segmentRates(segmentScores(truth, truth, { durationSeconds: 4 })).accuracy; // => 1
 */
export function segmentRates(counts: SegmentCounts): SegmentRates {
  checkCounts('segmentRates', 'counts', counts, [...COUNTS, 'trueNegatives']);
  checkInteger('segmentRates', 'counts.hits', counts.hits, 0, Math.min(counts.reference, counts.estimate));
  const falsePositives = counts.estimate - counts.hits;
  const negatives = counts.trueNegatives + falsePositives;
  const all = counts.reference + negatives;
  const sensitivity = counts.reference === 0 ? null : counts.hits / counts.reference;
  const specificity = negatives === 0 ? null : counts.trueNegatives / negatives;
  return {
    sensitivity,
    specificity,
    accuracy: all === 0 ? null : (counts.hits + counts.trueNegatives) / all,
    balancedAccuracy: sensitivity === null || specificity === null ? null : (sensitivity + specificity) / 2,
  };
}

function activeSegments(events: readonly SoundEvent[], length: number, count: number): Set<string>[] {
  const active = Array.from({ length: count }, () => new Set<string>());
  for (const event of events) {
    const first = Math.max(0, Math.floor((event.startSeconds + TIME_SLACK_SECONDS) / length));
    const past = Math.min(count, Math.ceil((event.endSeconds - TIME_SLACK_SECONDS) / length));
    for (let k = first; k < past; k++) active[k]?.add(event.label);
  }
  return active;
}

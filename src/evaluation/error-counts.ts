import { checkInteger } from '../signal/check.js';
import { checkCounts, checkEach } from './check-spans.js';
import { fMeasure } from './f-measure.js';

/** Counts that can be summed over clips before rates are made of them. */
export interface ErrorCounts {
  /** Reference events, or active label-segments of the reference. */
  readonly reference: number;
  /** The same of the estimate. */
  readonly estimate: number;
  /** What is in both under the same label. */
  readonly hits: number;
  /** Something was there and something was found, under the wrong label. */
  readonly substitutions: number;
  /** What only the reference has. */
  readonly deletions: number;
  /** What only the estimate has. */
  readonly insertions: number;
}

/** The counts by name. */
export const COUNTS: readonly (keyof ErrorCounts)[] = Object.freeze([
  'reference',
  'estimate',
  'hits',
  'substitutions',
  'deletions',
  'insertions',
] as const);

/** Rates of counts. A rate of nothing is null. */
export interface ErrorRates {
  /** hits / estimate, 0 to 1. */
  readonly precision: number | null;
  /** hits / reference, 0 to 1. */
  readonly recall: number | null;
  /** 2·hits / (reference + estimate), 0 to 1. */
  readonly fMeasure: number | null;
  /** (substitutions + deletions + insertions) / reference: 0 is perfect, above 1 is possible. */
  readonly errorRate: number | null;
}

/**
 * Sums counts over clips, so that long clips weigh more; the sum of none is all zeros. Throws a RangeError or TypeError for a count
 * that is no whole number from 0 on.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { sumErrorCounts } from 'lenition/evaluation';
 * sumErrorCounts([]).hits; // => 0
 */
export function sumErrorCounts(counts: readonly ErrorCounts[]): ErrorCounts {
  checkEach('sumErrorCounts', 'counts', counts, (count, at) => {
    checkCounts('sumErrorCounts', at, count, COUNTS);
  });
  const sum = (field: keyof ErrorCounts): number => counts.reduce((total, count) => total + count[field], 0);
  return {
    reference: sum('reference'),
    estimate: sum('estimate'),
    hits: sum('hits'),
    substitutions: sum('substitutions'),
    deletions: sum('deletions'),
    insertions: sum('insertions'),
  };
}

/**
 * Rates of counts: P = hits / estimate, R = hits / reference, F = 2·hits / (reference + estimate), ER = (S + D + I) / N
 * with N the reference count. P is null without estimates, R and ER without references, F where either is. Throws a RangeError or
 * TypeError for a count that is no whole number from 0 on, or more hits than there are events.
 * Source: A. Mesaros, T. Heittola, T. Virtanen, Metrics for Polyphonic Sound Event Detection, Applied Sciences 6 (2016) 162.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { errorRates } from 'lenition/evaluation';
 * const counts = { reference: 2, estimate: 1, hits: 1, substitutions: 0, deletions: 1, insertions: 0 };
 * errorRates(counts).errorRate; // => 0.5
 */
export function errorRates(counts: ErrorCounts): ErrorRates {
  checkCounts('errorRates', 'counts', counts, COUNTS);
  const { reference, estimate, hits } = counts;
  checkInteger('errorRates', 'counts.hits', hits, 0, Math.min(reference, estimate));
  const precision = estimate === 0 ? null : hits / estimate;
  const recall = reference === 0 ? null : hits / reference;
  return {
    precision,
    recall,
    fMeasure: precision === null || recall === null ? null : fMeasure(precision, recall),
    errorRate:
      reference === 0 ? null : (counts.substitutions + counts.deletions + counts.insertions) / reference,
  };
}

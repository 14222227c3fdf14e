import { checkObject } from '../signal/check.js';
import { checkEach, checkSpan } from './check-spans.js';
import { quantile } from './quantile.js';
import type { TimeSpan } from './time-spans.js';

/** How far measured edges lie from true ones, in seconds. */
export interface EdgeErrorFigures {
  /** How many pairs were compared. */
  readonly count: number;
  /** Median of the absolute error. */
  readonly medianSeconds: number;
  /** 90th percentile of the absolute error. */
  readonly p90Seconds: number;
  /** Median of the signed error, measured minus true: above 0 the measured edge is late. */
  readonly biasSeconds: number;
}

/** Errors of starts and of ends, kept apart because they have different causes. */
export interface EdgeErrors {
  /** Errors of the starts. */
  readonly start: EdgeErrorFigures;
  /** Errors of the ends. */
  readonly end: EdgeErrorFigures;
}

/**
 * Error of the starts and of the ends of matched pairs. Returns null for no pairs: there is no median of nothing.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { edgeErrors } from 'lenition/evaluation';
 * const truth = { startSeconds: 1, endSeconds: 2 };
 * edgeErrors([{ reference: truth, estimate: { startSeconds: 1.5, endSeconds: 2 } }])?.start.medianSeconds; // => 0.5
 */
export function edgeErrors(
  pairs: readonly { readonly reference: TimeSpan; readonly estimate: TimeSpan }[],
): EdgeErrors | null {
  checkEach('edgeErrors', 'pairs', pairs, (pair, at) => {
    checkObject('edgeErrors', at, pair);
    checkSpan('edgeErrors', `${at}.reference`, pair.reference);
    checkSpan('edgeErrors', `${at}.estimate`, pair.estimate);
  });
  if (pairs.length === 0) return null;
  return {
    start: figures(pairs.map((pair) => pair.estimate.startSeconds - pair.reference.startSeconds)),
    end: figures(pairs.map((pair) => pair.estimate.endSeconds - pair.reference.endSeconds)),
  };
}

function figures(errors: readonly number[]): EdgeErrorFigures {
  const absolute = errors.map(Math.abs);
  return {
    count: errors.length,
    medianSeconds: quantile(absolute, 0.5),
    p90Seconds: quantile(absolute, 0.9),
    biasSeconds: quantile(errors, 0.5),
  };
}

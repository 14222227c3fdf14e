import { checkFields, checkInteger, checkNumber, checkObject } from '../signal/check.js';
import { checkEach } from './check-spans.js';

/** A decision with the belief that it was right, and whether it was. */
export interface JudgedDecision {
  /** 0 to 1. */
  readonly confidence: number;
  /** Whether the decision was right. */
  readonly right: boolean;
}

/** Decisions whose confidence lies in [least, most), the last bin including its upper end. */
export interface ReliabilityBin {
  /** Lower end of the bin, 0 to 1. */
  readonly least: number;
  /** Upper end of the bin, 0 to 1. */
  readonly most: number;
  /** Decisions in the bin. */
  readonly count: number;
  /** Mean confidence of the decisions in the bin, 0 to 1; null for an empty bin. */
  readonly meanConfidence: number | null;
  /** Share of them that were right, 0 to 1; null for an empty bin. */
  readonly shareRight: number | null;
}

/** How far confidence can be believed. */
export interface Reliability {
  /** In order of confidence. */
  readonly bins: readonly ReliabilityBin[];
  /** Mean of |share right − mean confidence| over bins, weighted by their counts; null without decisions. */
  readonly expectedError: number | null;
}

/**
 * Sorts decisions into bins of equal width by confidence and compares each bin's mean confidence with the share that was
 * right: of decisions at 0.8, about 80 % should be.
 *
 * `bins`: 1 to 1000, 10 by default. An empty list gives empty bins.
 * Source: C. Guo et al., On Calibration of Modern Neural Networks, ICML 2017 (expected calibration error; from memory).
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { reliability } from 'lenition/evaluation';
 * const decisions = [{ confidence: 0.75, right: true }, { confidence: 0.75, right: false }];
 * reliability(decisions, { bins: 2 }).expectedError; // => 0.25
 */
export function reliability(
  decisions: readonly JudgedDecision[],
  options: { readonly bins?: number } = {},
): Reliability {
  checkObject('reliability', 'options', options);
  checkFields('reliability', 'options', options, ['bins']);
  const binCount = options.bins ?? 10;
  checkInteger('reliability', 'bins', binCount, 1, 1000);
  const sums = Array.from({ length: binCount }, () => ({ count: 0, confidence: 0, right: 0 }));
  checkEach('reliability', 'decisions', decisions, (decision, at) => {
    checkObject('reliability', at, decision);
    const { confidence, right } = decision;
    checkNumber('reliability', `${at}.confidence`, confidence, 0, 1);
    const bin = sums[Math.min(binCount - 1, Math.floor(confidence * binCount))];
    if (bin === undefined) return;
    bin.count++;
    bin.confidence += confidence;
    if (right) bin.right++;
  });
  const bins = sums.map((sum, k) => ({
    least: k / binCount,
    most: (k + 1) / binCount,
    count: sum.count,
    meanConfidence: sum.count === 0 ? null : sum.confidence / sum.count,
    shareRight: sum.count === 0 ? null : sum.right / sum.count,
  }));
  const gaps = sums.reduce((total, sum) => total + Math.abs(sum.right - sum.confidence), 0);
  return { bins, expectedError: decisions.length === 0 ? null : gaps / decisions.length };
}

import { checkNumber, checkObject } from '../signal/check.js';
import { checkEach } from './check-spans.js';

/** A point that is better the higher both of its values are. */
export interface TradeOff {
  /** Share of finds that are right, 0 to 1. */
  readonly precision: number;
  /** Share of labels that are found, 0 to 1. */
  readonly recall: number;
}

/**
 * The points that no other point beats in both precision and recall (the Pareto front), in order of rising recall.
 * Of equal points the first stays. An empty list gives an empty list.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { bestTradeOffs } from 'lenition/evaluation';
 * const points = [{ precision: 0.9, recall: 0.8 }, { precision: 0.8, recall: 0.7 }];
 * bestTradeOffs(points); // => [{ precision: 0.9, recall: 0.8 }]
 */
export function bestTradeOffs<T extends TradeOff>(points: readonly T[]): readonly T[] {
  checkEach('bestTradeOffs', 'points', points, (point, at) => {
    checkObject('bestTradeOffs', at, point);
    checkNumber('bestTradeOffs', `${at}.precision`, point.precision);
    checkNumber('bestTradeOffs', `${at}.recall`, point.recall);
  });
  const front: T[] = [];
  let mostPrecision = Number.NEGATIVE_INFINITY;
  const byRecall = points
    .map((point, i) => ({ point, i }))
    .sort((a, b) => b.point.recall - a.point.recall || b.point.precision - a.point.precision || a.i - b.i);
  for (const { point } of byRecall) {
    if (point.precision <= mostPrecision) continue;
    front.push(point);
    mostPrecision = point.precision;
  }
  return front.reverse();
}

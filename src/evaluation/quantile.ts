import { checkArray, checkNumber, rangeError } from '../signal/check.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import { checkEach } from './check-spans.js';

/**
 * Sample quantile with linear interpolation between the order statistics: position h = (n − 1)·p, counted from 0.
 *
 * `values`: finite numbers in any order, left unchanged. `p`: 0 (least) to 1 (greatest). One value is every quantile of
 * itself; an empty list has none and throws a RangeError.
 * Source: R. J. Hyndman and Y. Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996), definition 7 (from memory).
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { quantile } from 'lenition/evaluation';
 * quantile([4, 1, 3, 2], 0.5); // => 2.5
 */
export function quantile(values: readonly number[], p: number): number {
  checkNumber('quantile', 'p', p, 0, 1);
  checkArray('quantile', 'values', values);
  if (values.length === 0) throw rangeError('quantile', 'values', 'must hold at least one number', values);
  checkEach('quantile', 'values', values, (value, at) => {
    checkNumber('quantile', at, value);
  });
  return quantileOf(rising(values), p);
}

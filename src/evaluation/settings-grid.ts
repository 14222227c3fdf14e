import { checkArray, checkObject, rangeError } from '../signal/check.js';

/**
 * Every combination of the values named for each setting; the last setting varies fastest.
 *
 * `axes`: setting name → values to try, at least one each. No setting at all gives one empty combination.
 * Throws a TypeError where an axis is not a list, a RangeError where it is empty.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { settingsGrid } from 'lenition/evaluation';
 * settingsGrid({ minConfidence: [0.4, 0.6], bridge: [1] }); // => [{ minConfidence: 0.4, bridge: 1 }, { minConfidence: 0.6, bridge: 1 }]
 */
export function settingsGrid<T>(
  axes: Readonly<Record<string, readonly T[]>>,
): readonly Readonly<Record<string, T>>[] {
  checkObject('settingsGrid', 'axes', axes);
  let combinations: Readonly<Record<string, T>>[] = [{}];
  for (const [name, values] of Object.entries(axes)) {
    checkArray('settingsGrid', `axes.${name}`, values);
    if (values.length === 0)
      throw rangeError('settingsGrid', `axes.${name}`, 'must hold at least one value', values);
    combinations = combinations.flatMap((done) => values.map((value) => ({ ...done, [name]: value })));
  }
  return combinations;
}

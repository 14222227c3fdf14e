import { checkNumber } from '../signal/check.js';

/**
 * Weighted harmonic mean of precision and recall: F = (1 + β²)·P·R / (β²·P + R).
 *
 * `precision`, `recall`: 0 to 1. `beta`: how many times as much recall matters as precision (1 by default), above 0 to 1e100.
 * Where either is 0, F is 0.
 * Source: C. J. van Rijsbergen, Information Retrieval, 1979 (from memory).
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { fMeasure } from 'lenition/evaluation';
 * fMeasure(0.5, 0.5); // => 0.5
 */
export function fMeasure(precision: number, recall: number, beta: number = 1): number {
  checkNumber('fMeasure', 'precision', precision, 0, 1);
  checkNumber('fMeasure', 'recall', recall, 0, 1);
  // Its square has to fit a double.
  checkNumber('fMeasure', 'beta', beta, Number.MIN_VALUE, 1e100);
  if (precision === 0 || recall === 0) return 0;
  const weight = beta * beta;
  return ((1 + weight) * precision * recall) / (weight * precision + recall);
}

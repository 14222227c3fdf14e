import { collectProblems, type NoteProblem, oneProblem } from './parse-json.js';
import type { Result } from './result.js';

/**
 * As collectProblems, for a reader of a value that another program built. A getter or a proxy in it may throw, and
 * that is a fault of the data, not an error of ours.
 */
export function readPlainData<T>(read: (note: NoteProblem) => T | undefined): Result<T> {
  try {
    return collectProblems(read);
  } catch {
    return oneProblem('$', 'must be plain data', 'something that throws when it is read');
  }
}

/** The fields of an object from outside; none where it is no object. */
export function fieldsOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}

/** True for a whole number within [least, most]. */
export function isWhole(value: unknown, least: number, most: number): value is number {
  return Number.isSafeInteger(value) && (value as number) >= least && (value as number) <= most;
}

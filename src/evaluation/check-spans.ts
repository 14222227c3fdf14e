import { checkArray, checkInteger, checkNumber, checkObject } from '../signal/check.js';
import type { TimeSpan } from './time-spans.js';

/** Throws unless `list` is an array whose items pass `check`, which hears where each stands; holes count as undefined. */
export function checkEach<T>(
  functionName: string,
  parameter: string,
  list: readonly T[],
  check: (item: T, at: string) => void,
): void {
  checkArray(functionName, parameter, list);
  // By index: forEach would pass over holes.
  for (let i = 0; i < list.length; i++) check(list[i] as T, `${parameter}[${i}]`);
}

/** Throws unless the stretch of time has a finite start and a finite end. */
export function checkSpan(functionName: string, parameter: string, span: TimeSpan): void {
  checkObject(functionName, parameter, span);
  checkNumber(functionName, `${parameter}.startSeconds`, span.startSeconds);
  checkNumber(functionName, `${parameter}.endSeconds`, span.endSeconds);
}

/** The same for each of a list. */
export function checkSpans(functionName: string, parameter: string, spans: readonly TimeSpan[]): void {
  checkEach(functionName, parameter, spans, (span, at) => {
    checkSpan(functionName, at, span);
  });
}

/** Throws unless each of the named counts is a whole number, 0 or more. */
export function checkCounts<K extends string>(
  functionName: string,
  parameter: string,
  counts: Readonly<Record<K, number>>,
  names: readonly K[],
): void {
  checkObject(functionName, parameter, counts);
  for (const name of names) checkInteger(functionName, `${parameter}.${name}`, counts[name], 0);
}

import { checkArray, checkNumber, checkObject, rangeError, typeError } from '../signal/check.js';
import { checkSpan } from './check-spans.js';
import type { TimeSpan } from './time-spans.js';

/** A stretch of time that carries a label. Times are seconds from the start of the clip; the end is exclusive. */
export interface SoundEvent {
  /** Start, in seconds. */
  readonly startSeconds: number;
  /** At least `startSeconds`; equal to it for a point in time, which overlaps nothing. */
  readonly endSeconds: number;
  /** What it is; events are compared by it. */
  readonly label: string;
}

/**
 * Slack for comparing times, in seconds. A collar is inclusive, and 0.55 − 0.5 is not exactly 0.05 in binary; a
 * nanosecond is far above that error and far below a sample.
 */
export const TIME_SLACK_SECONDS = 1e-9;

/** Throws unless every event has a text label and finite times in order. */
export function checkEvents(functionName: string, parameter: string, events: readonly SoundEvent[]): void {
  checkArray(functionName, parameter, events);
  for (let i = 0; i < events.length; i++) {
    const event = events[i] as SoundEvent;
    checkObject(functionName, `${parameter}[${i}]`, event);
    checkNumber(functionName, `${parameter}[${i}].startSeconds`, event.startSeconds);
    checkNumber(functionName, `${parameter}[${i}].endSeconds`, event.endSeconds);
    if (event.endSeconds < event.startSeconds)
      throw rangeError(
        functionName,
        `${parameter}[${i}].endSeconds`,
        `must not lie before its start (${event.startSeconds})`,
        event.endSeconds,
      );
    if (typeof event.label !== 'string')
      throw typeError(functionName, `${parameter}[${i}].label`, 'must be a string', event.label);
  }
}

/**
 * How long two events sound together, in seconds: max(0, min(ends) − max(starts)). Throws a RangeError or TypeError for times that
 * are no finite numbers.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { overlapSeconds } from 'lenition/evaluation';
 * overlapSeconds({ startSeconds: 0, endSeconds: 2, label: 's' }, { startSeconds: 1.5, endSeconds: 3, label: 's' }); // => 0.5
 */
export function overlapSeconds(a: SoundEvent, b: SoundEvent): number {
  checkSpan('overlapSeconds', 'a', a);
  checkSpan('overlapSeconds', 'b', b);
  return sharedSeconds(a, b);
}

/** The same, unchecked: for every pair of two lists. */
export function sharedSeconds(a: TimeSpan, b: TimeSpan): number {
  return Math.max(0, Math.min(a.endSeconds, b.endSeconds) - Math.max(a.startSeconds, b.startSeconds));
}

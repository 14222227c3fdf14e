import type { TimeSpan } from '../../src/evaluation/time-spans.js';

/** Seconds from the end of one to the start of the other; below 0 by as much as they overlap. */
export function secondsBetween(a: TimeSpan, b: TimeSpan): number {
  return Math.max(a.startSeconds, b.startSeconds) - Math.min(a.endSeconds, b.endSeconds);
}

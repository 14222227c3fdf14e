import { checkNumber } from '../signal/check.js';
import { checkSpan, checkSpans } from './check-spans.js';
import { type SoundEvent, sharedSeconds } from './sound-event.js';

/** A stretch of time without a label, in seconds. */
export interface TimeSpan {
  /** Start, in seconds. */
  readonly startSeconds: number;
  /** End, in seconds, exclusive. */
  readonly endSeconds: number;
}

/**
 * The union of stretches of time as separate spans in order, each widened on both sides first.
 *
 * `widenSeconds`: 0 or more (0 by default). Spans that touch are joined; empty ones are left out. Throws a RangeError or TypeError
 * for times that are no finite numbers.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { unionOfSpans } from 'lenition/evaluation';
 * unionOfSpans([{ startSeconds: 1, endSeconds: 2 }, { startSeconds: 1.5, endSeconds: 3 }]); // => [{ startSeconds: 1, endSeconds: 3 }]
 */
export function unionOfSpans(spans: readonly TimeSpan[], widenSeconds: number = 0): readonly TimeSpan[] {
  checkSpans('unionOfSpans', 'spans', spans);
  checkNumber('unionOfSpans', 'widenSeconds', widenSeconds, 0);
  return joinedSpans(spans, widenSeconds);
}

/** The same, unchecked. */
export function joinedSpans(spans: readonly TimeSpan[], widenSeconds: number = 0): readonly TimeSpan[] {
  const union: { startSeconds: number; endSeconds: number }[] = [];
  const wide = spans
    .map((s) => ({ startSeconds: s.startSeconds - widenSeconds, endSeconds: s.endSeconds + widenSeconds }))
    .filter((s) => s.endSeconds > s.startSeconds)
    .sort((a, b) => a.startSeconds - b.startSeconds);
  for (const span of wide) {
    const last = union.at(-1);
    if (last !== undefined && span.startSeconds <= last.endSeconds)
      last.endSeconds = Math.max(last.endSeconds, span.endSeconds);
    else union.push(span);
  }
  return union;
}

/**
 * Seconds of `event` that lie inside `spans`, which must not overlap one another (see `unionOfSpans`). Throws a RangeError or
 * TypeError for times that are no finite numbers.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { secondsInside } from 'lenition/evaluation';
 * secondsInside({ startSeconds: 0, endSeconds: 2 }, [{ startSeconds: 1.5, endSeconds: 9 }]); // => 0.5
 */
export function secondsInside(event: SoundEvent | TimeSpan, spans: readonly TimeSpan[]): number {
  checkSpan('secondsInside', 'event', event);
  checkSpans('secondsInside', 'spans', spans);
  return secondsWithin(event, spans);
}

/** The same, unchecked. */
export function secondsWithin(event: TimeSpan, spans: readonly TimeSpan[]): number {
  return spans.reduce((sum, span) => sum + sharedSeconds(event, span), 0);
}

import { PHONE_SCORING } from '../../src/evaluation/phone-tally.js';
import type { LabelledPhone } from './corpus.js';

/** Whether a sibilant follows a stop at once, as in "six" and "its": its release is the start of that sibilant, and no event of its own. */
export function isReleasedIntoSibilant(
  labels: readonly LabelledPhone[],
  stop: { readonly startSeconds: number; readonly endSeconds: number },
): boolean {
  const next = labels.find(({ startSeconds }) => startSeconds > stop.startSeconds);
  return (
    next?.phoneClass === 'sibilant' && next.startSeconds - stop.endSeconds < PHONE_SCORING.mergeGapSeconds
  );
}

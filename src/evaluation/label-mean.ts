import { checkFields, checkObject, typeError } from '../signal/check.js';
import { checkEach } from './check-spans.js';
import { type ErrorCounts, errorRates, sumErrorCounts } from './error-counts.js';
import { checkEvents, type SoundEvent } from './sound-event.js';

/** One clip's truth and what was found in it. */
export interface ScoredClip {
  /** What is there, by its labels. */
  readonly reference: readonly SoundEvent[];
  /** What was found. */
  readonly estimate: readonly SoundEvent[];
}

/**
 * Mean over labels of the F-measure of each label alone: rare labels weigh as much as frequent ones.
 *
 * `score`: counts of one clip, `eventScores` or `segmentScores` with their options. A label that only one side has gives
 * no F-measure (precision or recall is of nothing): it is left out of the mean, or counts as 0 where `emptyIsZero` is true.
 * Returns null where no label is left.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { eventScores, meanOverLabels } from 'lenition/evaluation';
 * const s = { startSeconds: 0, endSeconds: 1, label: 's' };
 * meanOverLabels([{ reference: [s], estimate: [s] }], eventScores); // => 1
 */
export function meanOverLabels(
  clips: readonly ScoredClip[],
  score: (reference: readonly SoundEvent[], estimate: readonly SoundEvent[]) => ErrorCounts,
  options: { readonly emptyIsZero?: boolean } = {},
): number | null {
  checkClips('meanOverLabels', clips);
  checkObject('meanOverLabels', 'options', options);
  checkFields('meanOverLabels', 'options', options, ['emptyIsZero']);
  if (typeof score !== 'function') throw typeError('meanOverLabels', 'score', 'must be a function', score);
  const labels = new Set(clips.flatMap((clip) => [...clip.reference, ...clip.estimate].map((e) => e.label)));
  const values: number[] = [];
  for (const label of labels) {
    const only = (events: readonly SoundEvent[]): readonly SoundEvent[] =>
      events.filter((event) => event.label === label);
    const counts = clips.map((clip) => score(only(clip.reference), only(clip.estimate)));
    const value = errorRates(sumErrorCounts(counts)).fMeasure;
    if (value !== null) values.push(value);
    else if (options.emptyIsZero === true) values.push(0);
  }
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Throws unless each clip has two lists of sound events. */
export function checkClips(functionName: string, clips: readonly ScoredClip[]): void {
  checkEach(functionName, 'clips', clips, (clip, at) => {
    checkObject(functionName, at, clip);
    checkEvents(functionName, `${at}.reference`, clip.reference);
    checkEvents(functionName, `${at}.estimate`, clip.estimate);
  });
}

import { checkObject } from '../signal/check.js';
import type { ErrorCounts } from './error-counts.js';
import { type EdgeMatchOptions, edgeMatching } from './match-by-edges.js';
import type { SoundEvent } from './sound-event.js';

/**
 * Event-based counts of one clip: events agree by their edges (see `matchByEdges`) and their label.
 * Of the events left over, those that agree by edges with one of another label are substitutions; the rest are
 * deletions and insertions. `errorRates` makes rates of the counts, `sumErrorCounts` adds clips.
 *
 * Source: A. Mesaros, T. Heittola, T. Virtanen, Metrics for Polyphonic Sound Event Detection, Applied Sciences 6 (2016) 162.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { errorRates, eventScores } from 'lenition/evaluation';
 * const truth = [{ startSeconds: 0, endSeconds: 0.1, label: 's' }];
 * errorRates(eventScores(truth, truth)).fMeasure; // => 1
 */
export function eventScores(
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: Partial<Omit<EdgeMatchOptions, 'sameLabel'>> = {},
): ErrorCounts {
  checkObject('eventScores', 'options', options);
  const matched = edgeMatching('eventScores', reference, estimate, { ...options, sameLabel: true });
  const confused = edgeMatching(
    'eventScores',
    matched.unmatchedReference.map((r) => reference[r] as SoundEvent),
    matched.unmatchedEstimate.map((e) => estimate[e] as SoundEvent),
    { ...options, sameLabel: false },
  );
  return {
    reference: reference.length,
    estimate: estimate.length,
    hits: matched.pairs.length,
    substitutions: confused.pairs.length,
    deletions: confused.unmatchedReference.length,
    insertions: confused.unmatchedEstimate.length,
  };
}

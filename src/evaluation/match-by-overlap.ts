import { checkFields, checkNumber, checkObject } from '../signal/check.js';
import { indexByStart } from './index-by-start.js';
import { checkEvents, type SoundEvent, sharedSeconds, TIME_SLACK_SECONDS } from './sound-event.js';

/** Which reference event goes with which estimated event; all numbers are indices into the lists given. */
export interface Matching {
  /** Those that go together, each event in one pair at most. */
  readonly pairs: readonly {
    /** Index of the reference event. */
    readonly reference: number;
    /** Index of the estimated event. */
    readonly estimate: number;
  }[];
  /** Reference events without a partner: misses, in order. */
  readonly unmatchedReference: readonly number[];
  /** Estimated events without a partner: false finds, in order. */
  readonly unmatchedEstimate: readonly number[];
}

/**
 * Pairs labels with regions by how long they sound together: two may pair when they overlap by at least `share` of the
 * shorter of the two. One to one, largest overlap first; of equal overlaps the earlier reference, then the earlier estimate.
 *
 * Labels are not looked at: give only those that may pair. `share` from 0 to 1 (0.5 by default). Events that do not
 * overlap at all never pair. Pairs come in order of the reference list.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { matchByOverlap } from 'lenition/evaluation';
 * const label = { startSeconds: 1, endSeconds: 1.2, label: 's' };
 * const region = { startSeconds: 1.1, endSeconds: 1.4, label: 'sibilant' };
 * matchByOverlap([label], [region]).pairs; // => [{ reference: 0, estimate: 0 }]
 */
export function matchByOverlap(
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: { readonly share?: number } = {},
): Matching {
  return overlapMatching('matchByOverlap', reference, estimate, options);
}

/** The same for another function, whose name the messages then carry. */
export function overlapMatching(
  functionName: string,
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: { readonly share?: number },
): Matching {
  const share = overlapShare(functionName, options);
  checkEvents(functionName, 'reference', reference);
  checkEvents(functionName, 'estimate', estimate);
  const candidates = overlappingPairs(reference, estimate, share);
  candidates.sort((a, b) => b.overlap - a.overlap || a.reference - b.reference || a.estimate - b.estimate);
  const partner = new Map<number, number>();
  const taken = new Set<number>();
  for (const { reference: r, estimate: e } of candidates) {
    if (partner.has(r) || taken.has(e)) continue;
    partner.set(r, e);
    taken.add(e);
  }
  return matchingFrom(partner, reference.length, estimate.length);
}

/** Completes a matching from its reference → estimate pairs. */
export function matchingFrom(
  partner: ReadonlyMap<number, number>,
  referenceCount: number,
  estimateCount: number,
): Matching {
  const taken = new Set(partner.values());
  const pairs: { reference: number; estimate: number }[] = [];
  const unmatchedReference: number[] = [];
  const unmatchedEstimate: number[] = [];
  for (let r = 0; r < referenceCount; r++) {
    const e = partner.get(r);
    if (e === undefined) unmatchedReference.push(r);
    else pairs.push({ reference: r, estimate: e });
  }
  for (let e = 0; e < estimateCount; e++) if (!taken.has(e)) unmatchedEstimate.push(e);
  return { pairs, unmatchedReference, unmatchedEstimate };
}

/** The share asked for, 0.5 where none is given. */
export function overlapShare(functionName: string, options: { readonly share?: number }): number {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, ['share']);
  const { share = 0.5 } = options;
  checkNumber(functionName, 'share', share, 0, 1);
  return share;
}

function overlappingPairs(
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  share: number,
): { reference: number; estimate: number; overlap: number }[] {
  const found: { reference: number; estimate: number; overlap: number }[] = [];
  const startingWithin = indexByStart(estimate);
  // Estimates may overlap one another, so the search backwards is bounded by the longest of them.
  const longest = estimate.reduce((most, e) => Math.max(most, e.endSeconds - e.startSeconds), 0);
  for (let r = 0; r < reference.length; r++) {
    const ref = reference[r] as SoundEvent;
    for (const e of startingWithin(ref.startSeconds - longest, ref.endSeconds)) {
      const est = estimate[e] as SoundEvent;
      const overlap = sharedSeconds(ref, est);
      const shorter = Math.min(ref.endSeconds - ref.startSeconds, est.endSeconds - est.startSeconds);
      if (overlap > 0 && overlap + TIME_SLACK_SECONDS >= share * shorter)
        found.push({ reference: r, estimate: e, overlap });
    }
  }
  return found;
}

import { checkChoice, checkFields, checkNumber, checkObject } from '../signal/check.js';
import { indexByStart } from './index-by-start.js';
import { type Matching, matchingFrom } from './match-by-overlap.js';
import { maximumMatching } from './maximum-matching.js';
import { checkEvents, type SoundEvent, TIME_SLACK_SECONDS } from './sound-event.js';

/** How near two events must lie to be one. Both bounds are inclusive. */
export interface EdgeMatchOptions {
  /** Most distance of the starts, and least allowance for the ends, in seconds; 0 or more. */
  readonly collarSeconds: number;
  /** The ends may differ by this share of the reference's length where that is more than the collar; 0 or more. */
  readonly offsetShare: number;
  /** False: only starts are compared. */
  readonly useOffset: boolean;
  /** False: an event may pair with one of another label. */
  readonly sameLabel: boolean;
  /** `optimal`: as many pairs as possible. `greedy`: each reference in turn takes the first fitting estimate. */
  readonly matching: 'optimal' | 'greedy';
}

/** Collar 200 ms and half the length, as in most published work; for consonants of 100 ms use a collar of 20 ms too. */
export const EDGE_MATCH: EdgeMatchOptions = Object.freeze({
  collarSeconds: 0.2,
  offsetShare: 0.5,
  useOffset: true,
  sameLabel: true,
  matching: 'optimal',
});

/**
 * Pairs reference and estimated events whose edges agree:
 * |Δstart| ≤ collar, and |Δend| ≤ max(collar, share · length of the reference). One to one.
 *
 * Empty lists are allowed. Pairs come in order of the reference list.
 * Source: A. Mesaros, T. Heittola, T. Virtanen, Metrics for Polyphonic Sound Event Detection, Applied Sciences 6 (2016) 162.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { matchByEdges } from 'lenition/evaluation';
 * const truth = { startSeconds: 1, endSeconds: 1.1, label: 's' };
 * const found = { startSeconds: 1.01, endSeconds: 1.12, label: 's' };
 * matchByEdges([truth], [found], { collarSeconds: 0.02 }).pairs.length; // => 1
 */
export function matchByEdges(
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: Partial<EdgeMatchOptions> = {},
): Matching {
  return edgeMatching('matchByEdges', reference, estimate, options);
}

/** The same for another function, whose name the messages then carry. */
export function edgeMatching(
  functionName: string,
  reference: readonly SoundEvent[],
  estimate: readonly SoundEvent[],
  options: Partial<EdgeMatchOptions>,
): Matching {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, Object.keys(EDGE_MATCH));
  const rule = { ...EDGE_MATCH, ...options };
  checkEvents(functionName, 'reference', reference);
  checkEvents(functionName, 'estimate', estimate);
  checkNumber(functionName, 'collarSeconds', rule.collarSeconds, 0);
  checkNumber(functionName, 'offsetShare', rule.offsetShare, 0);
  checkChoice(functionName, 'matching', rule.matching, ['optimal', 'greedy']);
  const startingWithin = indexByStart(estimate);
  const reach = rule.collarSeconds + TIME_SLACK_SECONDS;
  const neighbours = reference.map((ref) =>
    startingWithin(ref.startSeconds - reach, ref.startSeconds + reach).filter((e) =>
      edgesAgree(ref, estimate[e] as SoundEvent, rule),
    ),
  );
  const partner = new Map<number, number>();
  if (rule.matching === 'optimal')
    maximumMatching(neighbours, estimate.length).forEach((e, r) => {
      if (e >= 0) partner.set(r, e);
    });
  else {
    const taken = new Set<number>();
    neighbours.forEach((list, r) => {
      const e = list.find((candidate) => !taken.has(candidate));
      if (e === undefined) return;
      partner.set(r, e);
      taken.add(e);
    });
  }
  return matchingFrom(partner, reference.length, estimate.length);
}

/** The starts are known to agree. */
function edgesAgree(ref: SoundEvent, est: SoundEvent, rule: EdgeMatchOptions): boolean {
  if (rule.sameLabel && ref.label !== est.label) return false;
  const collar = rule.collarSeconds + TIME_SLACK_SECONDS;
  if (!rule.useOffset) return true;
  const allowance = rule.offsetShare * (ref.endSeconds - ref.startSeconds) + TIME_SLACK_SECONDS;
  return Math.abs(est.endSeconds - ref.endSeconds) <= Math.max(collar, allowance);
}

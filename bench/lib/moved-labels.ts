import type { PhoneTally } from '../../src/evaluation/phone-tally.js';
import type { TimeSpan } from '../../src/evaluation/time-spans.js';
import { secondsBetween } from './seconds-between.js';

/** As far as labels are off: those by forced alignment begin up to this early, those of the worst corpus lie this far to either side. */
export const MOVED_SECONDS = 0.05;

/** Labels that were missed though what they name was found beside them. */
export interface MovedLabels {
  /** Sibilant labels without a match, that have a sibilant region without one within `MOVED_SECONDS`. */
  readonly sibilants: number;
  /** Unvoiced ones without a harsh region, that have one without a label within `MOVED_SECONDS`. */
  readonly unvoiced: number;
}

/** Counts them, each region for one label, the nearest first. */
export function movedLabels({ sibilants, unvoiced, harshPlaces }: PhoneTally): MovedLabels {
  const matched = new Set(unvoiced.map(({ region }) => region));
  return {
    sibilants: pairsWithin(
      sibilants.flatMap(({ label, region }) => (region === null && label !== null ? [label] : [])),
      sibilants.flatMap(({ label, region }) => (label === null && region !== null ? [region] : [])),
    ),
    unvoiced: pairsWithin(
      unvoiced.flatMap(({ label, region }) => (region === null && label !== null ? [label] : [])),
      harshPlaces.flatMap(({ region }) => (matched.has(region) ? [] : [region])),
    ),
  };
}

function pairsWithin(labels: readonly TimeSpan[], regions: readonly TimeSpan[]): number {
  const near = labels
    .flatMap((label) => regions.map((region) => ({ label, region, seconds: secondsBetween(label, region) })))
    .filter(({ seconds }) => seconds <= MOVED_SECONDS)
    .sort((a, b) => a.seconds - b.seconds);
  const taken = new Set<TimeSpan>();
  let count = 0;
  for (const { label, region } of near) {
    if (taken.has(label) || taken.has(region)) continue;
    taken.add(label).add(region);
    count++;
  }
  return count;
}

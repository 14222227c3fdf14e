import { checkArray, checkObject } from '../signal/check.js';
import { checkEach } from './check-spans.js';
import { type EdgeErrors, edgeErrors } from './edge-errors.js';
import type { JudgedEvent, PhoneTally } from './phone-tally.js';

/** The figures of one or more clips. A share of nothing is null. Shares are 0 to 1. */
export interface PhoneFigures {
  /** Length of the clips together, in seconds. */
  readonly durationSeconds: number;
  /** Sibilant labels, those that touch counted as one. */
  readonly sibilantLabels: number;
  /** Regions of kind sibilant. */
  readonly sibilantRegions: number;
  /** Regions of a harsh kind: sibilant, fricative or burst. */
  readonly harshRegions: number;
  /** 2·hits / (labels + regions), sibilants only. */
  readonly strictF1: number | null;
  /** Share of sibilant regions that match a sibilant label. */
  readonly strictPrecision: number | null;
  /** Share of sibilant labels that match a sibilant region. */
  readonly strictRecall: number | null;
  /** Sibilant labels that hold an unvoiced one: s, sh, ch, ts. */
  readonly unvoicedLabels: number;
  /** Share of unvoiced sibilant labels matched by a region of any harsh kind. */
  readonly unvoicedRecall: number | null;
  /** Share of harsh regions that lie on no obstruent; the next three are its parts. */
  readonly wrongPlace: number | null;
  /** Those that lie on a vowel, nasal, glide, liquid or tap. */
  readonly wrongPlaceSonorant: number | null;
  /** Those that lie on silence, or on no label. */
  readonly wrongPlaceSilence: number | null;
  /** Those that lie on a breath. */
  readonly wrongPlaceBreath: number | null;
  /** Voiced sound inside harsh regions, in milliseconds for each minute of the clips. */
  readonly voicedCutMsPerMinute: number | null;
  /** Labels of t and k. */
  readonly tongueStopLabels: number;
  /** Share of t and k labels matched by a harsh region. */
  readonly tongueStopsFound: number | null;
  /** Of those found, share whose region is a burst. */
  readonly tongueStopsTold: number | null;
  /**
   * The same without those whose region is the match of a sibilant label: where an s follows at once, as in "its", the
   * region of the s can be the only one there, and calls itself rightly a sibilant.
   */
  readonly tongueStopsToldApart: number | null;
  /** Breath labels. */
  readonly breathLabels: number;
  /** Share of breath labels matched by a region that says breath. */
  readonly breathsTold: number | null;
  /** Share of breath labels matched by a harsh region: a breath that would be cut as a consonant. */
  readonly breathsHarsh: number | null;
  /** Edges of matched sibilants. */
  readonly edges: EdgeErrors | null;
  /** Phones under sibilant regions that match no sibilant label, most frequent first; '-' is no label. */
  readonly falseByPhone: readonly PhoneCount[];
  /** Phones of sibilant labels without a sibilant region, most frequent first. */
  readonly missedByPhone: readonly PhoneCount[];
}

/** How often a phone occurs. */
export interface PhoneCount {
  /** The phone as its corpus writes it. */
  readonly phone: string;
  /** How often. */
  readonly count: number;
}

/** What figures are counted from. */
const LISTS = ['sibilants', 'unvoiced', 'tongueStops', 'breaths', 'harshPlaces'] as const;

/**
 * Makes rates of tallies: counts are summed over all clips first, so long clips weigh more.
 * An empty list gives figures of nothing: counts 0, rates null.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { phoneFigures, phoneTally } from 'lenition/evaluation';
 * const s = { startSeconds: 1, endSeconds: 1.1, label: 's', phoneClass: 'sibilant', voiced: false, tongueStop: false };
 * const region = { startSeconds: 1, endSeconds: 1.1, label: 'sibilant', confidence: 0.9 };
 * phoneFigures([phoneTally([s], [region], 60), phoneTally([s], [], 60)]).strictRecall; // => 0.5
 */
export function phoneFigures(tallies: readonly PhoneTally[]): PhoneFigures {
  checkEach('phoneFigures', 'tallies', tallies, (tally, at) => {
    checkObject('phoneFigures', at, tally);
    for (const field of LISTS) checkArray('phoneFigures', `${at}.${field}`, tally[field]);
  });
  const all = <T>(pick: (tally: PhoneTally) => readonly T[]): readonly T[] => tallies.flatMap(pick);
  const sibilants = all((tally) => tally.sibilants);
  const hits = sibilants.filter((event) => event.label !== null && event.region !== null);
  const misses = sibilants.filter((event) => event.region === null);
  const falseOnes = sibilants.filter((event) => event.label === null);
  const labels = hits.length + misses.length;
  const regions = hits.length + falseOnes.length;
  const unvoiced = all((tally) => tally.unvoiced);
  const places = all((tally) => tally.harshPlaces);
  const misplaced = (what: string): number => places.filter((place) => place.misplaced === what).length;
  const stops = all((tally) => tally.tongueStops);
  const foundStops = stops.filter((stop) => stop.region !== null);
  const rightlySibilant = new Set(hits.map(({ region }) => region));
  const stopsApart = foundStops.filter(({ region }) => !rightlySibilant.has(region));
  const breaths = all((tally) => tally.breaths);
  const harshBreaths = breaths.filter(({ region }) =>
    ['sibilant', 'fricative', 'burst'].includes(region?.label ?? ''),
  );
  const seconds = tallies.reduce((sum, tally) => sum + tally.durationSeconds, 0);
  const cut = tallies.reduce((sum, tally) => sum + tally.voicedCutSeconds, 0);
  return {
    durationSeconds: seconds,
    sibilantLabels: labels,
    sibilantRegions: regions,
    harshRegions: places.length,
    strictF1: share(2 * hits.length, labels + regions),
    strictPrecision: share(hits.length, regions),
    strictRecall: share(hits.length, labels),
    unvoicedLabels: unvoiced.length,
    unvoicedRecall: share(unvoiced.filter((event) => event.region !== null).length, unvoiced.length),
    wrongPlace: share(places.filter((place) => place.misplaced !== null).length, places.length),
    wrongPlaceSonorant: share(misplaced('sonorant'), places.length),
    wrongPlaceSilence: share(misplaced('silence'), places.length),
    wrongPlaceBreath: share(misplaced('breath'), places.length),
    voicedCutMsPerMinute: share(cut * 1000 * 60, seconds),
    tongueStopLabels: stops.length,
    tongueStopsFound: share(foundStops.length, stops.length),
    tongueStopsTold: share(withRegion(foundStops, 'burst'), foundStops.length),
    tongueStopsToldApart: share(withRegion(stopsApart, 'burst'), stopsApart.length),
    breathLabels: breaths.length,
    breathsTold: share(withRegion(breaths, 'breath'), breaths.length),
    breathsHarsh: share(harshBreaths.length, breaths.length),
    edges: edgeErrors(
      hits.flatMap(({ label, region }) =>
        label === null || region === null ? [] : [{ reference: label, estimate: region }],
      ),
    ),
    falseByPhone: countPhones(falseOnes),
    missedByPhone: countPhones(misses),
  };
}

function share(part: number, whole: number): number | null {
  return whole === 0 ? null : part / whole;
}

function withRegion(events: readonly JudgedEvent[], kind: string): number {
  return events.filter((event) => event.region?.label === kind).length;
}

function countPhones(events: readonly JudgedEvent[]): readonly PhoneCount[] {
  const counts = new Map<string, number>();
  for (const { phone } of events) counts.set(phone, (counts.get(phone) ?? 0) + 1);
  return [...counts]
    .map(([phone, count]) => ({ phone, count }))
    .sort((a, b) => b.count - a.count || (a.phone < b.phone ? -1 : 1));
}

import type { RegionKind } from '../regions/region.js';
import { checkFields, checkNumber, checkObject } from '../signal/check.js';
import { type JudgedRegion, judgeRegions } from './judge-regions.js';
import { type Matching, matchByOverlap } from './match-by-overlap.js';
import { mergeTouching } from './merge-touching.js';
import { type Misplacement, misplacedOn } from './misplacement.js';
import { checkPhones, isObstruent, type PhoneEvent } from './phone-event.js';
import { checkRegionEvents, type RegionEvent } from './region-events.js';
import { voicedCutSeconds } from './voiced-cut.js';

/** A label and the region that goes with it; null on either side where nothing does. */
export interface JudgedEvent {
  /** What was labelled: for a joined label its phones with + between; for a false region the phone it lies on most. */
  readonly phone: string;
  /** What was labelled; null for a false region. */
  readonly label: PhoneSpan | null;
  /** What was found; null for a miss. */
  readonly region: RegionEvent | null;
}

/** A label, or several that touch, as one stretch. */
export interface PhoneSpan {
  /** Start of the first phone, in seconds. */
  readonly startSeconds: number;
  /** End of the last phone, in seconds, exclusive. */
  readonly endSeconds: number;
  /** Its phones, joined by +. */
  readonly label: string;
  /** One label, or those that touch, in order of time. */
  readonly phones: readonly PhoneEvent[];
}

/** What one clip adds to every figure; tallies of several clips are pooled by `poolTallies`. */
export interface PhoneTally {
  /** Length of the clip, in seconds. */
  readonly durationSeconds: number;
  /** Sibilant labels against sibilant regions: hits have both sides, misses no region, false ones no label. */
  readonly sibilants: readonly JudgedEvent[];
  /** Labels with an unvoiced sibilant against regions of any harsh kind; without false ones. */
  readonly unvoiced: readonly JudgedEvent[];
  /** Labels of t and k, their end moved, against regions of any harsh kind; without false ones. */
  readonly tongueStops: readonly JudgedEvent[];
  /** Breath labels against regions of every kind; without false ones. */
  readonly breaths: readonly JudgedEvent[];
  /** Every harsh region: null where at least `leastOnObstruent` of it lies on an obstruent, else what it lies on. */
  readonly harshPlaces: readonly {
    /** The region. */
    readonly region: RegionEvent;
    /** What it lies on where that is no obstruent; null where it is. */
    readonly misplaced: Misplacement | null;
  }[];
  /** Voiced sound inside harsh regions, in seconds; see `voicedCutSeconds`. */
  readonly voicedCutSeconds: number;
  /** Sibilant, fricative, burst and breath regions: was the kind right? Data for `reliability`. */
  readonly decisions: readonly JudgedRegion[];
}

/** The constants of the figures. */
export interface PhoneScoring {
  /** A label and a region match when they overlap by this share of the shorter of the two. */
  readonly overlapShare: number;
  /** Sibilant labels closer than this are one. */
  readonly mergeGapSeconds: number;
  /** Obstruent labels are widened by this on both sides before a region's place is judged. */
  readonly obstruentMarginSeconds: number;
  /** A harsh region of which less than this share lies on an obstruent is in the wrong place. */
  readonly leastOnObstruent: number;
  /** Voiced sound counts as cut where a region reaches further into it than this. */
  readonly voicedReachSeconds: number;
  /** The end of a t or k label is moved by this: the release may lie behind what an aligner calls the stop. */
  readonly stopReleaseSeconds: number;
}

/** Defaults: how this project scores; docs/accuracy.md says why. */
export const PHONE_SCORING: PhoneScoring = Object.freeze({
  overlapShare: 0.5,
  mergeGapSeconds: 0.005,
  obstruentMarginSeconds: 0.02,
  leastOnObstruent: 0.3,
  voicedReachSeconds: 0.02,
  stopReleaseSeconds: 0.03,
});

/** The kinds that a cut is for: a breath is neither harsh nor wrong by being a region. */
export const HARSH_KINDS: readonly RegionKind[] = Object.freeze(['sibilant', 'fricative', 'burst'] as const);

/**
 * Scores the regions of one clip against its labelled phones; `phoneFigures` makes rates of it.
 *
 * Touching sibilant labels are joined first. Matching is by overlap (see `matchByOverlap`), one to one, and separate for
 * each figure. `durationSeconds` is the length of the clip, 0 or more. Empty lists are allowed on either side.
 * `options`: any of `PHONE_SCORING`. Throws a RangeError or TypeError for events out of order or without a label.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { phoneTally } from 'lenition/evaluation';
 * const s = { startSeconds: 1, endSeconds: 1.1, label: 's', phoneClass: 'sibilant', voiced: false, tongueStop: false };
 * const region = { startSeconds: 1.02, endSeconds: 1.1, label: 'sibilant', confidence: 0.9 };
 * phoneTally([s], [region], 60).unvoiced[0]?.region?.confidence; // => 0.9
 */
export function phoneTally(
  phones: readonly PhoneEvent[],
  regions: readonly RegionEvent[],
  durationSeconds: number,
  options: Partial<PhoneScoring> = {},
): PhoneTally {
  checkPhones('phoneTally', 'phones', phones);
  checkRegionEvents('phoneTally', 'regions', regions);
  checkNumber('phoneTally', 'durationSeconds', durationSeconds, 0);
  checkObject('phoneTally', 'options', options);
  checkFields('phoneTally', 'options', options, Object.keys(PHONE_SCORING));
  const scoring = { ...PHONE_SCORING, ...options };
  for (const [name, value] of Object.entries(scoring)) checkNumber('phoneTally', name, value, 0);
  checkNumber('phoneTally', 'overlapShare', scoring.overlapShare, 0, 1);
  const share = { share: scoring.overlapShare };
  const harsh = regions.filter((region) => HARSH_KINDS.includes(region.label));
  const sibilants = sibilantSpans(phones, scoring.mergeGapSeconds);
  const unvoiced = sibilants.filter((span) => span.phones.some((phone) => !phone.voiced));
  const stops = phones
    .filter((phone) => phone.tongueStop)
    .map((phone) => span([phone], scoring.stopReleaseSeconds));
  const breaths = phones.filter((phone) => phone.phoneClass === 'breath').map((phone) => span([phone], 0));
  const strict = regions.filter((region) => region.label === 'sibilant');
  const strictMatching = matchByOverlap(sibilants, strict, share);
  const obstruents = phones.filter(isObstruent);
  return {
    durationSeconds,
    sibilants: [
      ...judged(sibilants, strict, strictMatching),
      ...strictMatching.unmatchedEstimate.map((e) => {
        const region = strict[e] as RegionEvent;
        return { phone: phoneUnder(region, phones), label: null, region };
      }),
    ],
    unvoiced: judged(unvoiced, harsh, matchByOverlap(unvoiced, harsh, share)),
    tongueStops: judged(stops, harsh, matchByOverlap(stops, harsh, share)),
    breaths: judged(breaths, regions, matchByOverlap(breaths, regions, share)),
    harshPlaces: harsh.map((region) => ({
      region,
      misplaced: misplacedOn(region, phones, obstruents, scoring),
    })),
    voicedCutSeconds: voicedCutSeconds(phones, harsh, scoring.voicedReachSeconds),
    decisions: judgeRegions(
      regions,
      {
        sibilant: sibilants,
        fricative: phones.filter((phone) => phone.phoneClass === 'fricative'),
        burst: phones
          .filter((phone) => phone.phoneClass === 'stop')
          .map((phone) => span([phone], scoring.stopReleaseSeconds)),
        breath: breaths,
      },
      share,
    ),
  };
}

/**
 * Sibilant labels with those that touch (gap under `gapSeconds`, 0.005 by default) joined to one; the label of a joined
 * one is its phones with + between.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { sibilantSpans } from 'lenition/evaluation';
 * const s = { startSeconds: 1, endSeconds: 1.1, label: 's', phoneClass: 'sibilant', voiced: false, tongueStop: false };
 * sibilantSpans([s, { ...s, startSeconds: 1.1, endSeconds: 1.2, label: 'sh' }])[0]?.label; // => 's+sh'
 */
export function sibilantSpans(
  phones: readonly PhoneEvent[],
  gapSeconds: number = PHONE_SCORING.mergeGapSeconds,
): readonly PhoneSpan[] {
  checkPhones('sibilantSpans', 'phones', phones);
  checkNumber('sibilantSpans', 'gapSeconds', gapSeconds, 0);
  const sibilants = phones.filter((phone) => phone.phoneClass === 'sibilant');
  return mergeTouching(sibilants, gapSeconds).map((group) => span(group, 0));
}

function span(phones: readonly PhoneEvent[], extraSeconds: number): PhoneSpan {
  return {
    startSeconds: Math.min(...phones.map((phone) => phone.startSeconds)),
    endSeconds: Math.max(...phones.map((phone) => phone.endSeconds)) + extraSeconds,
    label: phones.map((phone) => phone.label).join('+'),
    phones,
  };
}

function judged(
  labels: readonly PhoneSpan[],
  regions: readonly RegionEvent[],
  matching: Matching,
): readonly JudgedEvent[] {
  const partner = new Map(matching.pairs.map((pair) => [pair.reference, pair.estimate]));
  return labels.map((label, i) => {
    const e = partner.get(i);
    return { phone: label.label, label, region: e === undefined ? null : (regions[e] as RegionEvent) };
  });
}

/** The phone that a region lies on longest, or '-' where it lies on none. */
function phoneUnder(region: RegionEvent, phones: readonly PhoneEvent[]): string {
  let most = 0;
  let name = '-';
  for (const phone of phones) {
    const seconds =
      Math.min(region.endSeconds, phone.endSeconds) - Math.max(region.startSeconds, phone.startSeconds);
    if (seconds > most) {
      most = seconds;
      name = phone.label;
    }
  }
  return name;
}

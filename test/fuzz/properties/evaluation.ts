import fc from 'fast-check';
import * as e from '../../../src/evaluation/index.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import { events, phones, regionEvents } from '../arbitraries/events.js';
import { anyFinite, options, rates, whole, within } from '../arbitraries/numbers.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const pairOfLists = fc.tuple(events(), events());
const edgeRule = options({
  collarSeconds: within(0, 1),
  offsetShare: within(0, 1),
  useOffset: fc.boolean(),
  matching: fc.constantFrom('optimal', 'greedy' as const),
});
const counts = fc
  .record({
    reference: whole(0, 99),
    estimate: whole(0, 99),
    hits: whole(0, 99),
    substitutions: whole(0, 99),
    deletions: whole(0, 99),
    insertions: whole(0, 99),
  })
  .map((c) => ({ ...c, hits: Math.min(c.hits, c.reference, c.estimate) }));
const spans = events().map((list) =>
  list.map(({ startSeconds, endSeconds }) => ({ startSeconds, endSeconds })),
);
const share = options({ share: within(0, 1) });
const rule = options({ sameLabel: fc.boolean() });
const tallies = fc.tuple(phones, regionEvents).map(([p, r]) => e.phoneTally(p, r, 20));

function eachOnce(
  { pairs, unmatchedReference, unmatchedEstimate }: e.Matching,
  a: readonly unknown[],
  b: readonly unknown[],
): void {
  must(pairs.length + unmatchedReference.length === a.length, 'each reference must be matched or not');
  must(pairs.length + unmatchedEstimate.length === b.length, 'each estimate must be matched or not');
}

export const EVALUATION: Properties = {
  matchByEdges: property(
    e.matchByEdges,
    fc.tuple(pairOfLists, edgeRule, rule).map(([l, a, b]) => [...l, { ...a, ...b }] as const),
    {
      check: eachOnce,
    },
  ),
  matchByOverlap: property(
    e.matchByOverlap,
    fc.tuple(pairOfLists, share).map(([l, o]) => [...l, o] as const),
    {
      check: eachOnce,
    },
  ),
  eventScores: property(
    e.eventScores,
    fc.tuple(pairOfLists, edgeRule).map(([l, o]) => [...l, o] as const),
    {},
  ),
  segmentScores: property(
    e.segmentScores,
    fc
      .tuple(
        pairOfLists,
        options({
          segmentSeconds: within(0.01, 5),
          durationSeconds: within(0, 40),
          labels: fc.array(fc.string(), { maxLength: 2 }),
        }),
      )
      .map(([l, o]) => [...l, o] as const),
  ),
  segmentRates: property(
    e.segmentRates,
    counts.map((c) => [{ ...c, trueNegatives: c.hits }] as const),
  ),
  errorRates: property(e.errorRates, fc.tuple(counts)),
  sumErrorCounts: property(e.sumErrorCounts, fc.tuple(fc.array(counts, { maxLength: 4 }))),
  fMeasure: property(e.fMeasure, fc.tuple(within(0, 1), within(0, 1), within(0.1, 10)), {
    check: (f, p, r) =>
      must(f >= 0 && f <= Math.max(p, r) + 1e-12, 'must be at most the better of the two', f),
  }),
  confusionTable: property(
    e.confusionTable,
    fc.tuple(fc.array(fc.record({ reference: events(), estimate: events() }), { maxLength: 3 }), share),
    {},
  ),
  edgeErrors: property(
    e.edgeErrors,
    pairOfLists.map(
      ([a, b]) => [a.slice(0, b.length).map((reference, i) => ({ reference, estimate: b[i]! }))] as const,
    ),
  ),
  judgeRegions: property(
    e.judgeRegions,
    fc
      .tuple(regionEvents, fc.dictionary(fc.constantFrom(...REGION_KINDS), events()), share)
      .map(([r, byKind, o]) => [r, byKind as Parameters<typeof e.judgeRegions>[1], o] as const),
    {},
  ),
  meanOverLabels: property(
    e.meanOverLabels,
    fc
      .tuple(
        fc.array(fc.record({ reference: events(), estimate: events() }), { maxLength: 3 }),
        options({ emptyIsZero: fc.boolean() }),
      )
      .map(
        ([clips, o]) =>
          [
            clips,
            (a: readonly e.SoundEvent[], b: readonly e.SoundEvent[]) => e.eventScores(a, b),
            o,
          ] as const,
      ),
    // What the caller's own `score` returns is judged where it is summed.
    {},
  ),
  maximumMatching: property(
    e.maximumMatching,
    fc
      .tuple(whole(0, 12), fc.array(fc.array(fc.nat(99), { maxLength: 5 }), { maxLength: 12 }))
      .map(([n, rows]) => [rows.map((row) => (n === 0 ? [] : row.map((x) => x % n))), n] as const),
  ),
  mergeTouching: property(e.mergeTouching, fc.tuple(events(), within(0, 0.1))),
  misplacement: property(
    e.misplacement,
    fc
      .tuple(regionEvents, phones, within(0, 0.1), within(0, 1))
      .filter(([r]) => r.length > 0)
      .map(
        ([r, p, obstruentMarginSeconds, leastOnObstruent]) =>
          [r[0]!, p, p.slice(0, 3), { obstruentMarginSeconds, leastOnObstruent }] as const,
      ),
  ),
  phoneTally: property(
    e.phoneTally,
    fc
      .tuple(
        phones,
        regionEvents,
        within(0, 60),
        options({
          overlapShare: within(0, 1),
          mergeGapSeconds: within(0, 0.1),
          stopReleaseSeconds: within(0, 0.1),
        }),
      )
      .map((a) => a),
    {},
  ),
  phoneFigures: property(e.phoneFigures, fc.tuple(fc.array(tallies, { maxLength: 3 })), { made: [0] }),
  sibilantSpans: property(e.sibilantSpans, fc.tuple(phones, within(0, 0.1))),
  quantile: property(
    e.quantile,
    fc.tuple(fc.array(anyFinite, { minLength: 1, maxLength: 9 }), within(0, 1)),
    {
      check: (q, values) =>
        must(q >= Math.min(...values) && q <= Math.max(...values), 'must lie between its values', q),
    },
  ),
  regionEvents: property(
    e.regionEvents,
    fc.tuple(regionEvents, rates).map(
      ([list, rate]) =>
        [
          list.map(({ label, confidence, startSeconds, endSeconds }) => {
            const onsetSample = Math.floor(startSeconds * rate);
            return {
              kind: label,
              confidence,
              onsetSample,
              offsetSample: onsetSample + 1 + Math.floor((endSeconds - startSeconds) * rate),
            };
          }),
          rate,
        ] as const,
    ),
  ),
  reliability: property(
    e.reliability,
    fc.tuple(
      fc.array(fc.record({ confidence: within(0, 1), right: fc.boolean() }), { maxLength: 9 }),
      options({ bins: whole(1, 1000) }),
    ),
  ),
  bestTradeOffs: property(
    e.bestTradeOffs,
    fc.tuple(fc.array(fc.record({ precision: within(0, 1), recall: within(0, 1) }), { maxLength: 9 })),
  ),
  settingsGrid: property(
    e.settingsGrid,
    fc.tuple(
      fc.dictionary(fc.string({ maxLength: 4 }), fc.array(fc.nat(), { minLength: 1, maxLength: 3 }), {
        maxKeys: 4,
      }),
    ),
    // It hands values on as they are.
    { infinite: 'any' },
  ),
  overlapSeconds: property(
    e.overlapSeconds,
    pairOfLists.filter(([a, b]) => a.length > 0 && b.length > 0).map(([a, b]) => [a[0]!, b[0]!] as const),
  ),
  secondsInside: property(
    e.secondsInside,
    fc
      .tuple(events(), spans)
      .filter(([a]) => a.length > 0)
      .map(([a, s]) => [a[0]!, e.unionOfSpans(s)] as const),
  ),
  unionOfSpans: property(e.unionOfSpans, fc.tuple(spans, within(0, 0.5))),
  voicedCutSeconds: property(e.voicedCutSeconds, fc.tuple(phones, events(), within(0, 0.1))),
};

import fc from 'fast-check';
import { markAndCut } from '../../src/gain/mark-and-cut.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import { insertRegion, type RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { joinAcrossGaps } from '../../src/regions/join-across-gaps.js';
import { markRange } from '../../src/regions/mark-range.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import { nudgeByFrames } from '../../src/regions/nudge-by-frames.js';
import { nudgeEdges } from '../../src/regions/nudge-edges.js';
import { reconcile } from '../../src/regions/reconcile.js';
import { REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { removeRegion } from '../../src/regions/remove-region.js';
import { setFades } from '../../src/regions/set-fades.js';
import { setBypassed, setKind, setLabel, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { snapRegion } from '../../src/regions/snap-region.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { stretchRegions } from '../../src/regions/stretch-regions.js';
import { trimRegion } from '../../src/regions/trim-region.js';

/** A clip so short that edits collide often. */
export const LENGTH = 200;
const samples = Float32Array.from({ length: LENGTH }, (_, i) => Math.sin(i * 1.7) + Math.sin(i * 0.31));

/** Any edit of the library with its arguments; it throws where they do not suit the list. */
export type Edit = (list: RegionList) => RegionList;

// Positions and ids also outside of what is allowed.
const position = fc.integer({ min: -3, max: LENGTH + 3 });
const span = fc.tuple(position, fc.integer({ min: -1, max: 40 })).map(([a, n]) => [a, a + n] as const);
const length = fc.integer({ min: -1, max: 25 });
const gain = fc.oneof(fc.double({ min: -130, max: 30 }), fc.constant(Number.NaN));
// Ids are drawn as a place in the list, which is then looked up, so that most edits find their region.
const place = fc.nat({ max: 7 });
const idAt = (list: RegionList, at: number): number => list.regions[at]?.id ?? at;

/** What a detector could find: regions with gaps, measured edges as their own, no decisions. */
const finds: fc.Arbitrary<RegionList> = fc
  .array(
    fc.record({
      gap: fc.nat({ max: 40 }),
      length: fc.integer({ min: 2, max: 30 }),
      kind: fc.constantFrom('sibilant', 'burst', 'custom' as const),
      confidence: fc.constantFrom(0.5, 0.9, 1),
    }),
    { maxLength: 6 },
  )
  .map((rows) => {
    let at = 0;
    const drafts: RegionDraft[] = [];
    for (const { gap, length, kind, confidence } of rows) {
      const startSample = at + gap;
      at = startSample + length;
      if (at > LENGTH) break;
      const edges = { startSample, endSample: at, onsetSample: startSample, offsetSample: at };
      drafts.push({ ...edges, kind, confidence });
    }
    return insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: LENGTH }), drafts);
  });

export const edits: fc.Arbitrary<Edit> = fc.oneof(
  fc
    .tuple(span, length, length, gain, fc.boolean(), fc.option(position), fc.option(position))
    .map(([[startSample, endSample], fadeInSamples, fadeOutSamples, gainDb, locked, onset, offset]): Edit => {
      const draft = { startSample, endSample, fadeInSamples, fadeOutSamples, gainDb };
      return (list) => insertRegion(list, { ...draft, locked, onsetSample: onset, offsetSample: offset });
    }),
  fc.array(span, { maxLength: 3 }).map((spans): Edit => {
    const drafts = spans.map(([startSample, endSample]) => ({ startSample, endSample }));
    return (list) => insertRegions(list, drafts);
  }),
  span.map(
    ([start, end]): Edit =>
      (list) =>
        markRange(list, start, end),
  ),
  fc.tuple(place, fc.option(position), fc.option(position)).map(([at, start, end]): Edit => {
    const edges = {
      ...(start === null ? {} : { startSample: start }),
      ...(end === null ? {} : { endSample: end }),
    };
    return (list) => moveEdges(list, idAt(list, at), edges);
  }),
  fc.tuple(place, fc.integer({ min: 0, max: 20 })).map(
    ([at, into]): Edit =>
      (list) =>
        splitRegion(list, idAt(list, at), (list.regions[at]?.startSample ?? 0) + into),
  ),
  fc.tuple(place, fc.integer({ min: 0, max: 3 })).map(
    ([at, more]): Edit =>
      (list) =>
        mergeRegions(list, [idAt(list, at + more), idAt(list, at + 1), idAt(list, at)]),
  ),
  fc.array(place, { maxLength: 2 }).map(
    (at): Edit =>
      (list) =>
        removeRegion(
          list,
          at.map((a) => idAt(list, a)),
        ),
  ),
  fc.tuple(place, gain).map(
    ([at, g]): Edit =>
      (list) =>
        setGain(list, [idAt(list, at)], g),
  ),
  fc.tuple(place, length, length).map(
    ([at, fadeInSamples, fadeOutSamples]): Edit =>
      (list) =>
        setFades(list, idAt(list, at), { fadeInSamples, fadeOutSamples }),
  ),
  fc.tuple(place, fc.boolean()).map(
    ([at, on]): Edit =>
      (list) =>
        setLocked(list, idAt(list, at), on),
  ),
  fc.tuple(place, fc.boolean()).map(
    ([at, on]): Edit =>
      (list) =>
        setBypassed(list, idAt(list, at), on),
  ),
  place.map(
    (at): Edit =>
      (list) =>
        setLabel(list, idAt(list, at), 'x'),
  ),
  fc.tuple(place, fc.constantFrom(...REGION_KINDS)).map(
    ([at, k]): Edit =>
      (list) =>
        setKind(list, idAt(list, at), k),
  ),
  place.map(
    (at): Edit =>
      (list) =>
        snapRegion(list, idAt(list, at), samples),
  ),
  fc.tuple(fc.integer({ min: -2, max: 2 }), gain).map(
    ([shift, gainDb]): Edit =>
      (list) =>
        editRegions(list, (region, i) =>
          i % 2 === 0 ? { gainDb, endSample: region.endSample + shift } : undefined,
        ),
  ),
  fc.tuple(place, span).map(
    ([at, [start, end]]): Edit =>
      (list) =>
        trimRegion(list, idAt(list, at), start, end),
  ),
  fc
    .tuple(
      place,
      fc.integer({ min: -15, max: 15 }),
      fc.constantFrom('both', 'start', 'end' as const),
      fc.boolean(),
    )
    .map(
      ([at, by, edges, inSeconds]): Edit =>
        (list) =>
          nudgeEdges(list, [idAt(list, at), idAt(list, at + 1)], {
            ...(inSeconds ? { bySeconds: by / 48000 } : { bySamples: by }),
            edges,
          }),
    ),
  fc.integer({ min: 0, max: 30 }).map(
    (gap): Edit =>
      (list) =>
        joinAcrossGaps(list, { maxGapSeconds: gap / 48000 }),
  ),
  fc.tuple(place, length, length).map(
    ([at, fadeInSamples, fadeOutSamples]): Edit =>
      (list) =>
        setFades(list, [idAt(list, at), idAt(list, at + 1)], {
          fadeInSamples,
          fadeOutSamples,
          shorten: true,
        }),
  ),
  fc.tuple(place, fc.constantFrom('start', 'end' as const)).map(
    ([at, edges]): Edit =>
      (list) =>
        snapRegion(list, idAt(list, at), samples, { edges }),
  ),
  fc.integer({ min: -30, max: 30 }).map(
    (by): Edit =>
      (list) =>
        shiftRegions(list, by).list,
  ),
  fc.double({ min: 0.5, max: 2, noNaN: true }).map(
    (ratio): Edit =>
      (list) =>
        stretchRegions(list, ratio, { lengthSamples: LENGTH }).list,
  ),
  // A frame is longer than the clip and would leave an empty list, so that is rare.
  fc.constantFrom(0, 0, 0, 0, 1).map(
    (frames): Edit =>
      (list) =>
        nudgeByFrames(list, frames, '29.97').list,
  ),
  fc.tuple(finds, fc.boolean()).map(
    ([found, keepUnmatched]): Edit =>
      (list) =>
        reconcile(list, found, { keepUnmatched }).list,
  ),
  fc
    .tuple(span, fc.constantFrom(samples, [samples, samples], null), fc.constantFrom(0, 0.0001, 0.001), gain)
    .map(
      ([[start, end], channels, snapSeconds, stepDb]): Edit =>
        (list) =>
          markAndCut(list, start, end, channels, {
            snapSeconds,
            stepDb: Math.min(stepDb, 0),
            fadeSeconds: 0.0002,
          }),
    ),
);

/** What sequences of edits begin with: nothing, or six regions, some touching, one locked. */
export const starts: fc.Arbitrary<RegionList> = fc.boolean().map((filled) => {
  const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: LENGTH });
  const s = (startSample: number, endSample: number, rest: Partial<RegionDraft> = {}): RegionDraft => ({
    kind: 'sibilant',
    startSample,
    endSample,
    onsetSample: startSample + 1,
    offsetSample: endSample,
    confidence: 0.8,
    ...rest,
  });
  const locked = s(90, 110, { locked: true, gainDb: -3 });
  const first = s(5, 30, { fadeInSamples: 5, fadeOutSamples: 8, gainDb: -6 });
  const drafts = [first, s(30, 40, { kind: 'burst' }), s(60, 80), locked, s(130, 160), s(165, 190)];
  return filled ? insertRegions(empty, drafts) : empty;
});

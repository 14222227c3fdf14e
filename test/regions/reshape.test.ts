import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { type JoinOptions, joinAcrossGaps } from '../../src/regions/join-across-gaps.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { type EdgeNudge, nudgeEdges } from '../../src/regions/nudge-edges.js';
import type { RegionList } from '../../src/regions/region.js';
import { selectRegions } from '../../src/regions/select-regions.js';
import { setFades } from '../../src/regions/set-fades.js';
import { type SnapRegionOptions, snapRegion } from '../../src/regions/snap-region.js';
import { trimRegion } from '../../src/regions/trim-region.js';
import { regionLists } from './arbitraries.js';

const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 });
const listOf = (...drafts: RegionDraft[]): RegionList => insertRegions(empty, drafts);
const spans = (list: RegionList): number[][] =>
  list.regions.map(({ id, startSample, endSample }) => [id, startSample, endSample]);
const s = (startSample: number, endSample: number, rest: Partial<RegionDraft> = {}): RegionDraft => ({
  kind: 'sibilant',
  startSample,
  endSample,
  ...rest,
});

describe('joining across gaps', () => {
  test('closes gaps up to the length given and none that is a sample longer', () => {
    const list = listOf(s(0, 10), s(58, 100), s(149, 200));
    // 48 samples are a millisecond at 48 kHz; 1.03 ms hold 49 whole samples, 0.99 ms hold 47.
    expect(spans(joinAcrossGaps(list, { maxGapSeconds: 0.001 }))).toEqual([
      [1, 0, 100],
      [3, 149, 200],
    ]);
    expect(spans(joinAcrossGaps(list, { maxGapSeconds: 0.00103 }))).toEqual([[1, 0, 200]]);
    expect(joinAcrossGaps(list, { maxGapSeconds: 0.00099 })).toBe(list);
  });

  test('is what merging the same regions by hand gives', () => {
    const list = listOf(
      s(0, 10, { fadeInSamples: 3, gainDb: -3 }),
      s(20, 100, { fadeOutSamples: 9, gainDb: -6 }),
    );
    expect(joinAcrossGaps(list, { maxGapSeconds: 1 })).toEqual(mergeRegions(list, [1, 2]));
  });

  test('joins only regions of one of the kinds, next to each other, that agree on bypass and band, none of them locked', () => {
    const pairs = [
      [s(0, 10), s(10, 20, { kind: 'burst' })],
      [s(0, 10), s(10, 20, { bypassed: true })],
      [s(0, 10), s(10, 20, { locked: true })],
      [s(0, 10, { locked: true }), s(10, 20)],
      [s(0, 10), s(10, 20, { band: { lowHz: 4000, highHz: 9000 } })],
      [s(0, 10, { band: { lowHz: 4000, highHz: 8000 } }), s(10, 20, { band: { lowHz: 4000, highHz: 9000 } })],
      [s(0, 10), { startSample: 10, endSample: 12, kind: 'click' as const }, s(12, 20)],
    ];
    for (const drafts of pairs) {
      const list = listOf(...drafts);
      expect(joinAcrossGaps(list, { maxGapSeconds: 1 })).toBe(list);
    }
    const both = listOf(s(0, 10), s(10, 20), s(30, 40, { kind: 'breath' }), s(40, 50, { kind: 'breath' }));
    expect(spans(joinAcrossGaps(both, { maxGapSeconds: 0, kinds: ['breath'] }))).toEqual([
      [1, 0, 10],
      [2, 10, 20],
      [3, 30, 50],
    ]);
  });

  test('leaves nothing to join, and every sample covered before is covered after', () => {
    fc.assert(
      fc.property(regionLists, fc.constantFrom(0, 0.001, 10, 1e6), (list, maxGapSeconds) => {
        const joined = joinAcrossGaps(list, { maxGapSeconds });
        expect(joinAcrossGaps(joined, { maxGapSeconds })).toBe(joined);
        for (const { startSample, endSample } of list.regions)
          expect(joined.regions.some((r) => r.startSample <= startSample && endSample <= r.endSample)).toBe(
            true,
          );
        for (const region of list.regions) if (region.locked) expect(joined.regions).toContain(region);
      }),
    );
  });

  test('is refused for a gap or kind that is none', () => {
    for (const options of [
      { maxGapSeconds: -1 },
      { maxGapSeconds: Number.NaN },
      { maxGapSeconds: 0, kinds: ['x'] },
    ])
      expect(() => joinAcrossGaps(empty, options as JoinOptions)).toThrow(RangeError);
    for (const options of [{}, { maxGapSeconds: 0, kinds: 'burst' }])
      expect(() => joinAcrossGaps(empty, options as JoinOptions)).toThrow(TypeError);
  });
});

describe('trimming', () => {
  const list = listOf(
    s(100, 200, { onsetSample: 110, offsetSample: 190, fadeInSamples: 30, fadeOutSamples: 60 }),
  );

  test('keeps the part within the range, shortens the fades to it, and forgets an edge that is cut away', () => {
    const { regions } = trimRegion(list, 1, 130, 175);
    // 45 samples for fades of 30 and 60: a third and two thirds of them.
    expect(regions[0]).toMatchObject({
      startSample: 130,
      endSample: 175,
      fadeInSamples: 15,
      fadeOutSamples: 30,
    });
    expect(regions[0]).toMatchObject({ onsetSample: null, offsetSample: null });
    expect(trimRegion(list, 1, 0, 195).regions[0]).toMatchObject({
      startSample: 100,
      endSample: 195,
      onsetSample: 110,
    });
    expect(trimRegion(list, 1, -50, 5000)).toEqual(list);
  });

  test('is refused where nothing would be left, and for broken ranges and ids', () => {
    for (const [from, to] of [
      [0, 100],
      [200, 300],
      [150, 150],
      [180, 120],
      [120.5, 150],
      [Number.NaN, 150],
    ] as const)
      expect(() => trimRegion(list, 1, from, to)).toThrow(RangeError);
    expect(() => trimRegion(list, 7, 0, 150)).toThrow(RangeError);
    expect(() => trimRegion(listOf(s(0, 10, { locked: true })), 1, 0, 5)).toThrow(/locked/);
  });
});

describe('nudging edges', () => {
  const list = listOf(
    s(100, 200, { onsetSample: 110, fadeInSamples: 50, fadeOutSamples: 50 }),
    s(200, 300),
    s(400, 500, { locked: true }),
  );

  test('moves start, end or both, by samples or seconds to the nearest one', () => {
    expect(spans(nudgeEdges(list, 1, { bySamples: -5 }))[0]).toEqual([1, 95, 195]);
    expect(spans(nudgeEdges(list, 1, { bySamples: -5, edges: 'start' }))[0]).toEqual([1, 95, 200]);
    expect(spans(nudgeEdges(list, 2, { bySamples: 5, edges: 'end' }))[1]).toEqual([2, 200, 305]);
    // 1.2 ms are 57.6 samples at 48 kHz.
    expect(spans(nudgeEdges(list, 2, { bySeconds: 0.0012 }))[1]).toEqual([2, 258, 358]);
  });

  test('lets regions that touch move together, and leaves what is measured where it is', () => {
    const moved = nudgeEdges(list, [1, 2], { bySamples: 30 });
    expect(spans(moved).slice(0, 2)).toEqual([
      [1, 130, 230],
      [2, 230, 330],
    ]);
    expect(moved.regions[0]?.onsetSample).toBe(110);
    expect(nudgeEdges(moved, [2, 1], { bySamples: -30 })).toEqual(list);
  });

  test('shortens fades that no longer fit', () => {
    const { regions } = nudgeEdges(list, 1, { bySamples: -60, edges: 'end' });
    expect(regions[0]).toMatchObject({
      startSample: 100,
      endSample: 140,
      fadeInSamples: 20,
      fadeOutSamples: 20,
    });
  });

  test('is refused where a region would overlap, turn round, leave the clip or is locked, and without one distance', () => {
    for (const [ids, nudge] of [
      [1, { bySamples: 1 }],
      [2, { bySamples: -1, edges: 'start' }],
      [1, { bySamples: 100, edges: 'start' }],
      [2, { bySamples: -100, edges: 'end' }],
      [1, { bySamples: -101 }],
      [2, { bySamples: 101 }],
      [3, { bySamples: 1 }],
      [[1, 2, 9], { bySamples: 1 }],
      [1, { bySamples: 0.5 }],
      [1, { bySamples: Number.NaN }],
      [1, { bySeconds: Number.POSITIVE_INFINITY }],
      [1, { bySamples: 1, bySeconds: 1 }],
      [1, {}],
      [1, { bySamples: -1, edges: 'middle' }],
      [1, { bySamples: -Number.MAX_SAFE_INTEGER }],
    ] as [number | number[], EdgeNudge][])
      expect(() => nudgeEdges(list, ids, nudge), JSON.stringify(nudge)).toThrow(RangeError);
    expect(() => nudgeEdges(list, 1, { bySamples: '5' as unknown as number })).toThrow(TypeError);
  });
});

describe('fades of many regions', () => {
  const list = listOf(s(0, 10), s(100, 400), s(500, 600, { locked: true }));

  test('of all that are not locked are set in one call, shortened in the short ones if asked', () => {
    const all = selectRegions(list, { locked: false });
    const faded = setFades(list, all, { fadeInSamples: 20, fadeOutSamples: 30, shorten: true });
    // 10 samples for 20 and 30: two fifths and three fifths.
    expect(faded.regions.map((r) => [r.fadeInSamples, r.fadeOutSamples])).toEqual([
      [4, 6],
      [20, 30],
      [0, 0],
    ]);
    expect(() => setFades(list, all, { fadeInSamples: 20 })).toThrow(RangeError);
  });

  test('shortening makes nothing sound of a broken length', () => {
    for (const fadeInSamples of [-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => setFades(list, 1, { fadeInSamples, fadeOutSamples: 50, shorten: true })).toThrow(
        RangeError,
      );
    expect(() => setFades(list, 1, { shorten: 1 as unknown as boolean })).toThrow(TypeError);
  });
});

test('snapping one edge leaves the other where it is', () => {
  // Half periods of 10 samples, zero crossings at 5, 15, 25, ... (rounded up).
  const wave = Float32Array.from({ length: 1000 }, (_, i) => Math.cos((Math.PI * (i + 0.001)) / 10));
  const list = listOf(s(101, 199));
  const edges = (options: Partial<SnapRegionOptions>): number[] | undefined =>
    spans(snapRegion(list, 1, wave, options))[0]?.slice(1);
  expect(edges({ edges: 'start' })).toEqual([105, 199]);
  expect(edges({ edges: 'end' })).toEqual([101, 195]);
  expect(edges({})).toEqual([105, 195]);
  expect(() => edges({ edges: 'left' as 'start' })).toThrow(RangeError);
});

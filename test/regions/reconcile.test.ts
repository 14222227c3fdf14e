import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import { HAND_REASON, type RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { type ReconcileOptions, reconcile } from '../../src/regions/reconcile.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { regionLists } from './arbitraries.js';

const LENGTH = 10_000;
const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: LENGTH });
const listOf = (...drafts: RegionDraft[]): RegionList => insertRegions(empty, drafts);

/** What a detector leaves: edges as measured, nothing decided. */
function find(startSample: number, endSample: number, rest: Partial<RegionDraft> = {}): RegionDraft {
  const reason = { rule: 'found', numbers: { probability: 0.9 } };
  const edges = { startSample, endSample, onsetSample: startSample, offsetSample: endSample };
  return { kind: 'sibilant', confidence: 0.9, reason, ...edges, ...rest };
}

/** Finds of 1000 samples that touch, and the same with edges moved by hand so that none overlaps: one more or less at each border. */
const touchingAndMoved = fc
  .array(fc.tuple(fc.integer({ min: -200, max: 200 }), fc.nat(200)), { minLength: 3, maxLength: 8 })
  .map((borders) => {
    const finds = borders.slice(1).map((_, i) => find(1000 * (i + 1), 1000 * (i + 2)));
    const moved = finds.map((draft, i) => {
      const [at, gap] = borders[i] as [number, number];
      const [next] = borders[i + 1] as [number, number];
      const startSample = (draft.startSample as number) + at + gap;
      return { ...draft, startSample, endSample: (draft.endSample as number) + next };
    });
    return { found: listOf(...finds), edited: listOf(...moved) };
  });

const spans = (list: RegionList): number[][] =>
  list.regions.map(({ id, startSample, endSample }) => [id, startSample, endSample]);

describe('edges that were moved', () => {
  test('come through as they were where the finds are the same, touching ones too', () => {
    fc.assert(
      fc.property(touchingAndMoved, ({ found, edited }) => {
        const { list, lost } = reconcile(edited, found);
        expect(lost).toEqual([]);
        expect(spans(list)).toEqual(spans(edited));
      }),
    );
  });

  test('go back where new finds leave no room for them, and so do those that had moved into what goes back', () => {
    // By hand: the second begins later and the first reaches after it. Found again, the third lies in the way of the second.
    const old = listOf(
      find(1000, 2000, { endSample: 2300 }),
      find(2000, 3000, { startSample: 2300, endSample: 3400 }),
      find(3500, 4000),
    );
    const { list, lost } = reconcile(old, listOf(find(1000, 2000), find(2000, 3000), find(3300, 4000)));
    expect(spans(list).map(([, ...edges]) => edges)).toEqual([
      [1000, 2000],
      [2000, 3000],
      [3300, 4000],
    ]);
    expect(lost.map(({ id, fields, reason }) => [id, fields, reason])).toEqual([
      [1, ['endSample'], 'collides'],
      [2, ['startSample', 'endSample'], 'collides'],
    ]);
  });
});

describe('a take that was found again', () => {
  test('keeps id and every hand edit of a match, and takes what is measured from the find', () => {
    const old = listOf(
      find(1000, 2000, {
        startSample: 950,
        endSample: 2100,
        gainDb: -9,
        fadeInSamples: 60,
        fadeOutSamples: 90,
        fadeShape: 'linear',
        bypassed: true,
        label: 'harsh',
        band: { lowHz: 4000, highHz: 12000 },
        reason: HAND_REASON,
      }),
    );
    const { list, kept, added, lost } = reconcile(
      old,
      listOf(find(10, 50), find(1100, 2050, { confidence: 0.8 })),
    );
    // The start was 50 before the onset and the end 100 after the offset, and so they are again.
    expect(list.regions[1]).toEqual({
      ...old.regions[0],
      onsetSample: 1100,
      offsetSample: 2050,
      startSample: 1050,
      endSample: 2150,
      confidence: 0.8,
    });
    const fields = ['startSample', 'endSample', 'gainDb', 'band', 'bypassed'];
    expect(kept).toEqual([
      { id: 1, foundId: 2, fields: [...fields, 'fadeInSamples', 'fadeOutSamples', 'fadeShape', 'label'] },
    ]);
    expect(added).toEqual([{ id: 2, foundId: 1 }]);
    expect(lost).toEqual([]);
    expect(list.nextId).toBe(3);
  });

  test('a find that nobody had decided about before is as found, under its old id', () => {
    const found = listOf(find(1100, 2050, { gainDb: -3, fadeInSamples: 5, confidence: 0.6 }));
    const { list, kept } = reconcile(listOf(find(1000, 2000)), found);
    expect(list.regions).toEqual(found.regions);
    expect(kept).toEqual([{ id: 1, foundId: 1, fields: [] }]);
  });

  test('finds without a match come in untouched, with ids that were never given', () => {
    const { list, added, lost } = reconcile(
      listOf(find(1000, 2000), find(5000, 6000)),
      listOf(find(100, 500), find(1000, 2000), find(8000, 9000)),
    );
    expect(spans(list)).toEqual([
      [3, 100, 500],
      [1, 1000, 2000],
      [4, 8000, 9000],
    ]);
    expect(added).toEqual([
      { id: 3, foundId: 1 },
      { id: 4, foundId: 3 },
    ]);
    expect(lost).toEqual([{ id: 2, foundId: null, fields: [], reason: 'notFound' }]);
    expect(list.nextId).toBe(5);
  });

  test('an s of 100 ms that comes 60 ms late is the same, one of 65 ms late is not', () => {
    // Shared over covered: (100 − 60) / 160 = 0.25, (100 − 65) / 165 = 0.212 (computed from published figures).
    const old = listOf(find(1000, 2000, { label: 'a' }));
    const later = (by: number) => reconcile(old, listOf(find(1000 + by, 2000 + by))).list.regions[0]?.label;
    expect(later(600)).toBe('a');
    expect(later(650)).toBe('');
    expect(reconcile(old, listOf(find(1600, 2600)), { minOverlap: 0.26 }).kept).toEqual([]);
  });

  test('matches one to one: of two finds the one that overlaps most, of two old ones likewise', () => {
    const old = listOf(find(1000, 2000, { label: 'a' }));
    const two = reconcile(old, listOf(find(1000, 1400), find(1400, 2000)));
    expect(two.list.regions.map((r) => r.label)).toEqual(['', 'a']);
    const both = listOf(find(1000, 1600, { label: 'a' }), find(1600, 2000, { label: 'b' }));
    const one = reconcile(both, listOf(find(1000, 2000)));
    expect(one.list.regions.map((r) => r.label)).toEqual(['a']);
    expect(one.lost).toEqual([{ id: 2, foundId: null, fields: ['label'], reason: 'notFound' }]);
  });

  test('another kind is no match, unless a person had said what it is', () => {
    const found = listOf(find(1000, 2000, { kind: 'burst' }));
    const judged = reconcile(listOf(find(1000, 2000, { gainDb: -6 })), found);
    expect(judged.list.regions.map((r) => [r.id, r.kind, r.gainDb])).toEqual([[2, 'burst', 0]]);
    const said = reconcile(listOf(find(1000, 2000, { gainDb: -6, confidence: 1 })), found);
    expect(said.list.regions.map((r) => [r.id, r.kind, r.gainDb, r.confidence])).toEqual([
      [1, 'sibilant', -6, 1],
    ]);
    // Of two finds, the one of the same kind, even if it overlaps less.
    const choice = reconcile(
      listOf(find(1000, 2000, { confidence: 1, label: 'a' })),
      listOf(find(1000, 1400), find(1400, 2000, { kind: 'burst' })),
    );
    expect(choice.list.regions.map((r) => [r.kind, r.label])).toEqual([
      ['sibilant', 'a'],
      ['burst', ''],
    ]);
  });

  test('edges that would overlap a neighbour stay as found, and that is reported; the other edits stay', () => {
    const old = listOf(find(1000, 2000, { startSample: 800, gainDb: -6, fadeInSamples: 1100 }));
    const { list, kept, lost } = reconcile(old, listOf(find(500, 950), find(1000, 1900)));
    expect(list.regions[1]).toMatchObject({
      id: 1,
      startSample: 1000,
      endSample: 1900,
      gainDb: -6,
      fadeInSamples: 900,
    });
    expect(lost).toEqual([{ id: 1, foundId: 2, fields: ['startSample'], reason: 'collides' }]);
    expect(kept).toEqual([{ id: 1, foundId: 2, fields: ['gainDb', 'fadeInSamples'] }]);
    const early = reconcile(listOf(find(300, 1000, { startSample: 50 })), listOf(find(200, 900)));
    expect(early.lost).toEqual([{ id: 1, foundId: 1, fields: ['startSample'], reason: 'outside' }]);
  });

  test('a locked region stays exactly as it is, and finds in its way are dropped and reported', () => {
    const old = listOf(find(1000, 2000, { startSample: 900, gainDb: -4, locked: true }), find(2500, 2600));
    const { list, kept, lost } = reconcile(old, listOf(find(850, 950, { kind: 'burst' }), find(1100, 2100)));
    expect(list.regions).toEqual([old.regions[0]]);
    expect(list.regions[0]).toBe(old.regions[0]);
    expect(kept).toMatchObject([{ id: 1, foundId: 2 }]);
    expect(lost).toEqual([
      { id: null, foundId: 1, fields: [], reason: 'covered' },
      { id: 2, foundId: null, fields: [], reason: 'notFound' },
    ]);
    const shorter = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 1999 }), [
      find(1000, 1900),
    ]);
    const outside = reconcile(old, shorter, { keepUnmatched: true });
    expect(outside.lost[0]).toMatchObject({ id: 1, reason: 'outside' });
    expect(outside.list.regions).toMatchObject([{ id: 3, gainDb: 0, locked: false }]);
  });

  test('an edit without a match is kept where there is room, if that is asked for', () => {
    const old = listOf(
      find(1000, 2000, { gainDb: -6 }),
      { startSample: 3000, endSample: 4000, gainDb: -3 },
      find(5000, 6000),
    );
    const found = listOf(find(3950, 3990, { kind: 'burst' }));
    expect(reconcile(old, found).list.regions).toHaveLength(1);
    const { list, kept, lost } = reconcile(old, found, { keepUnmatched: true });
    expect(list.regions[0]).toBe(old.regions[0]);
    expect(kept).toEqual([{ id: 1, foundId: null, fields: ['gainDb'] }]);
    expect(lost).toEqual([
      { id: 2, foundId: null, fields: ['kind', 'startSample', 'endSample', 'gainDb'], reason: 'collides' },
      { id: 3, foundId: null, fields: [], reason: 'notFound' },
    ]);
    expect(spans(list)).toEqual([
      [1, 1000, 2000],
      [4, 3950, 3990],
    ]);
  });

  test('with itself it is itself', () => {
    fc.assert(
      fc.property(regionLists, (list) => {
        const { list: same, added, lost } = reconcile(list, list);
        expect(same).toEqual(list);
        expect([added, lost]).toEqual([[], []]);
      }),
    );
  });

  test('any two lists give a sound one in which every region and find is accounted for', () => {
    const nearby = fc
      .tuple(regionLists, fc.integer({ min: -2000, max: 2000 }), fc.boolean())
      .map(([list, by, keepUnmatched]) => {
        const moved = list.regions.flatMap((region, i): RegionDraft[] => {
          if (i % 4 === 3) return [];
          const startSample = Math.max(0, region.startSample + by);
          const edges = { startSample, endSample: Math.max(startSample + 1, region.endSample + by) };
          return [
            { ...edges, kind: region.kind, onsetSample: edges.startSample, offsetSample: edges.endSample },
          ];
        });
        const longest = moved.reduce((most, { endSample }) => Math.max(most, endSample), list.lengthSamples);
        // Squeezed against the clip's start some may overlap: those go.
        const apart = moved.filter(({ startSample }, i) => i === 0 || startSample >= moved[i - 1]!.endSample);
        const clip = { sampleRateHz: list.sampleRateHz, lengthSamples: longest };
        return { list, found: insertRegions(createRegionList(clip), apart), keepUnmatched };
      });
    let matched = 0;
    fc.assert(
      fc.property(nearby, ({ list, found, keepUnmatched }) => {
        const { list: result, kept, added, lost } = reconcile(list, found, { keepUnmatched });
        checkRegionList(result);
        expect(result.nextId).toBe(list.nextId + added.length);
        const ids = (regions: readonly Region[]): Set<number> => new Set(regions.map(({ id }) => id));
        const oldIds = ids(list.regions);
        expect(new Set([...kept, ...added].map(({ id }) => id))).toEqual(ids(result.regions));
        for (const { id } of added) expect(id >= list.nextId).toBe(true);
        for (const { id } of kept) expect(oldIds.has(id)).toBe(true);
        // Each old region is kept or lost; only its edges may be both.
        const stays = new Set(kept.map(({ id }) => id));
        const gone = lost.filter(({ id }) => id !== null && !stays.has(id)).map(({ id }) => id);
        expect(gone.length + stays.size).toBe(oldIds.size);
        // Each find is matched, new, or dropped under a locked region, once.
        const finds = [...kept, ...added, ...lost.filter(({ id }) => id === null)].map(
          ({ foundId }) => foundId,
        );
        const named = finds.filter((id) => id !== null);
        expect([...named].sort((a, b) => a - b)).toEqual([...ids(found.regions)].sort((a, b) => a - b));
        matched += kept.filter(({ foundId }) => foundId !== null).length;
        for (const region of list.regions)
          if (region.locked && !gone.includes(region.id)) expect(result.regions).toContain(region);
      }),
      { numRuns: 500 },
    );
    // Lists of up to 12 regions, most of them found again near by: a property on lists that never match would say nothing.
    expect(matched).toBeGreaterThan(300);
  });
});

test('lists of different rates and options out of range are refused', () => {
  const other = createRegionList({ sampleRateHz: 44100, lengthSamples: LENGTH });
  expect(() => reconcile(empty, other)).toThrow(/^reconcile: newList\.sampleRateHz must equal/);
  for (const minOverlap of [0, -1, 1.01, Number.NaN])
    expect(() => reconcile(empty, empty, { minOverlap })).toThrow(RangeError);
  expect(() => reconcile(empty, empty, { keepUnmatched: 1 } as unknown as ReconcileOptions)).toThrow(
    TypeError,
  );
});

test('an edited list and its own unedited version give the edited one back', () => {
  const found = listOf(
    find(1000, 2000),
    find(3000, 4000, { kind: 'burst' }),
    find(5000, 7000, { kind: 'breath' }),
  );
  const edited = editRegions(found, (region, i) => ({
    gainDb: -3 * (i + 1),
    startSample: region.startSample - 20,
    endSample: region.endSample + 30,
    fadeInSamples: 20,
    fadeOutSamples: 30,
  }));
  expect(reconcile(edited, found).list).toEqual(edited);
});

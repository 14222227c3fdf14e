import { describe, expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import {
  DEFAULT_REGION,
  HAND_REASON,
  insertRegion,
  type RegionDraft,
} from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { markRange } from '../../src/regions/mark-range.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import type { Region, RegionKind, RegionList } from '../../src/regions/region.js';
import { regionById } from '../../src/regions/region-by-id.js';
import { removeRegion } from '../../src/regions/remove-region.js';
import { setFades } from '../../src/regions/set-fades.js';
import { setBypassed, setKind, setLabel, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { splitRegion } from '../../src/regions/split-region.js';

const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 });
const listOf = (...drafts: RegionDraft[]): RegionList => insertRegions(empty, drafts);
const spans = (list: RegionList): number[][] =>
  list.regions.map(({ id, startSample, endSample }) => [id, startSample, endSample]);
const byId = (list: RegionList, id: number): Region => regionById(list, id) as Region;

describe('inserting', () => {
  test('a draft of two edges becomes a custom region that changes nothing audible', () => {
    const list = insertRegion(empty, { startSample: 10, endSample: 20 });
    expect(list.regions).toEqual([{ ...DEFAULT_REGION, id: 1, startSample: 10, endSample: 20 }]);
    expect(list.regions[0]).toMatchObject({ kind: 'custom', gainDb: 0, confidence: 1, reason: HAND_REASON });
    expect(list.nextId).toBe(2);
  });

  test('regions may touch but not overlap by one sample, whatever their kinds', () => {
    const list = listOf({ startSample: 100, endSample: 200, kind: 'breath' });
    expect(spans(insertRegion(list, { startSample: 0, endSample: 100 }))).toEqual([
      [2, 0, 100],
      [1, 100, 200],
    ]);
    expect(spans(insertRegion(list, { startSample: 200, endSample: 1000 }))).toEqual([
      [1, 100, 200],
      [2, 200, 1000],
    ]);
    for (const [startSample, endSample] of [
      [0, 101],
      [199, 300],
      [120, 130],
      [50, 250],
      [100, 200],
    ] as const) {
      const insert = (): RegionList => insertRegion(list, { startSample, endSample, kind: 'sibilant' });
      expect(insert).toThrow(RangeError);
      expect(insert).toThrow(`received [${startSample}, ${endSample}) against region 1 at [100, 200)`);
    }
  });

  test('an overlap among drafts, or of a draft with what is there, inserts none of them', () => {
    const list = listOf({ startSample: 100, endSample: 200 });
    const add = (...drafts: RegionDraft[]) => insertRegions(list, drafts);
    expect(() => add({ startSample: 0, endSample: 20 }, { startSample: 19, endSample: 30 })).toThrow(
      RangeError,
    );
    expect(() => add({ startSample: 0, endSample: 20 }, { startSample: 150, endSample: 151 })).toThrow(
      RangeError,
    );
    expect(() => add({ startSample: 90, endSample: 101 })).toThrow(RangeError);
    expect(() => add({ startSample: 0, endSample: 20 }, { startSample: 20, endSample: 20 })).toThrow(
      /drafts\[1\]\.endSample/,
    );
    expect(spans(list)).toEqual([[1, 100, 200]]);
  });

  test('an id, and fields that no region has, are not taken from a draft', () => {
    const stranger = { ...byId(listOf({ startSample: 0, endSample: 5 }), 1), id: 77, colour: 'red' };
    const list = insertRegion(empty, stranger);
    expect(list.regions[0]?.id).toBe(1);
    expect(list.regions[0]).not.toHaveProperty('colour');
  });

  test('the draft and its reason stay the caller’s own: changing them later changes no region', () => {
    const numbers = { levelDb: -20 };
    const list = insertRegion(empty, { startSample: 0, endSample: 5, reason: { rule: 'loud', numbers } });
    numbers.levelDb = 0;
    expect(byId(list, 1).reason.numbers).toEqual({ levelDb: -20 });
  });

  test('each wrong field of a draft is named', () => {
    const wrong: [Partial<Record<keyof Region, unknown>>, ErrorConstructor, string][] = [
      [{ startSample: -1 }, RangeError, 'draft.startSample'],
      [{ endSample: 1001 }, RangeError, 'draft.endSample'],
      [{ startSample: 1.5 }, RangeError, 'draft.startSample'],
      [{ gainDb: -120.5 }, RangeError, 'draft.gainDb'],
      [{ gainDb: Number.NaN }, RangeError, 'draft.gainDb'],
      [{ gainDb: '-6' }, TypeError, 'draft.gainDb'],
      [{ confidence: 1.01 }, RangeError, 'draft.confidence'],
      [{ kind: 'vowel' }, RangeError, 'draft.kind'],
      [{ fadeShape: 3 }, TypeError, 'draft.fadeShape'],
      [{ fadeInSamples: 6, fadeOutSamples: 5 }, RangeError, 'draft.fadeOutSamples'],
      [{ fadeInSamples: -1 }, RangeError, 'draft.fadeInSamples'],
      [{ onsetSample: 8, offsetSample: 8 }, RangeError, 'draft.offsetSample'],
      [{ onsetSample: undefined }, TypeError, 'draft.onsetSample'],
      [{ bypassed: 1 }, TypeError, 'draft.bypassed'],
      [{ label: null }, TypeError, 'draft.label'],
      [{ reason: null }, TypeError, 'draft.reason'],
      [{ reason: { rule: '', numbers: { levelDb: Number.NEGATIVE_INFINITY } } }, RangeError, 'levelDb'],
    ];
    for (const [fields, kind, name] of wrong) {
      const insert = (): RegionList =>
        insertRegion(empty, { startSample: 0, endSample: 10, ...fields } as unknown as RegionDraft);
      expect(insert, name).toThrow(kind as unknown as typeof RangeError);
      expect(insert).toThrow(name);
    }
  });

  test('a list whose ids are used up refuses another region', () => {
    const full: RegionList = { ...empty, nextId: Number.MAX_SAFE_INTEGER };
    expect(() => insertRegion(full, { startSample: 0, endSample: 1 })).toThrow(/nextId/);
    expect(() => insertRegions(full, [{ startSample: 0, endSample: 1 }])).toThrow(/nextId/);
  });
});

describe('moving, splitting, merging', () => {
  test('an edge moves up to its neighbour and not beyond', () => {
    const list = listOf({ startSample: 100, endSample: 200 }, { startSample: 300, endSample: 400 });
    expect(spans(moveEdges(list, 1, { endSample: 300 }))[0]).toEqual([1, 100, 300]);
    expect(() => moveEdges(list, 1, { endSample: 301 })).toThrow(
      /must not overlap another.*region 2 at \[300, 400\)/,
    );
    expect(() => moveEdges(list, 2, { startSample: 199 })).toThrow(/against region 1/);
    expect(() => moveEdges(list, 1, { startSample: 500, endSample: 600 })).toThrow(/must not overlap/);
    expect(() => moveEdges(list, 1, { startSample: 200 })).toThrow(/endSample/);
    expect(() => moveEdges(list, 2, { endSample: 1001 })).toThrow(/endSample/);
  });

  test('fades that fit are kept by a move; others shrink together in proportion', () => {
    const list = listOf({ startSample: 0, endSample: 100, fadeInSamples: 30, fadeOutSamples: 60 });
    expect(byId(moveEdges(list, 1, { endSample: 90 }), 1)).toMatchObject({
      fadeInSamples: 30,
      fadeOutSamples: 60,
    });
    expect(byId(moveEdges(list, 1, { endSample: 45 }), 1)).toMatchObject({
      fadeInSamples: 15,
      fadeOutSamples: 30,
    });
    expect(byId(moveEdges(list, 1, { endSample: 1 }), 1)).toMatchObject({
      fadeInSamples: 0,
      fadeOutSamples: 0,
    });
  });

  test('a split leaves no gap, no fade at the cut, and each measured edge with its piece', () => {
    const list = listOf({
      startSample: 100,
      endSample: 200,
      fadeInSamples: 10,
      fadeOutSamples: 20,
      onsetSample: 110,
      offsetSample: 190,
      gainDb: -6,
    });
    const split = splitRegion(list, 1, 150);
    expect(byId(split, 1)).toMatchObject({
      startSample: 100,
      endSample: 150,
      fadeInSamples: 10,
      fadeOutSamples: 0,
      onsetSample: 110,
      offsetSample: null,
      gainDb: -6,
    });
    expect(byId(split, 2)).toMatchObject({
      startSample: 150,
      endSample: 200,
      fadeInSamples: 0,
      fadeOutSamples: 20,
      onsetSample: null,
      offsetSample: 190,
      gainDb: -6,
    });
    expect(split.nextId).toBe(3);
    for (const at of [100, 200, 99, 201, 150.5]) expect(() => splitRegion(list, 1, at)).toThrow(RangeError);
  });

  test('a measured edge at the very cut goes to the piece that holds its noise', () => {
    const pieces = (onsetSample: number | null, offsetSample: number | null): (number | null)[] =>
      splitRegion(
        listOf({ startSample: 100, endSample: 200, onsetSample, offsetSample }),
        1,
        150,
      ).regions.flatMap((r) => [r.onsetSample, r.offsetSample]);
    // The first sample of the noise is onset, its last is offset − 1; the later piece begins at 150.
    expect(pieces(149, null)).toEqual([149, null, null, null]);
    expect(pieces(150, null)).toEqual([null, null, 150, null]);
    expect(pieces(null, 150)).toEqual([null, 150, null, null]);
    expect(pieces(null, 151)).toEqual([null, null, null, 151]);
    // Edges outside of the region, as after moved edges, stay on their side too.
    expect(pieces(90, 210)).toEqual([90, null, null, 210]);
  });

  test('merging the two pieces of a split gives the region back', () => {
    const list = listOf({
      startSample: 100,
      endSample: 200,
      fadeInSamples: 10,
      fadeOutSamples: 20,
      onsetSample: 110,
      offsetSample: 190,
      kind: 'sibilant',
      gainDb: -6,
    });
    expect(mergeRegions(splitRegion(list, 1, 150), [2, 1]).regions).toEqual(list.regions);
  });

  test('a merge spans gaps, takes kind and gain from the longest, and refuses a stranger in between', () => {
    const list = listOf(
      { startSample: 0, endSample: 10, kind: 'burst', gainDb: -3, fadeInSamples: 4 },
      { startSample: 20, endSample: 90, kind: 'sibilant', gainDb: -6, label: 'long', onsetSample: 22 },
      { startSample: 90, endSample: 120, kind: 'breath', fadeOutSamples: 7, offsetSample: 118 },
    );
    const merged = mergeRegions(list, [3, 1, 2]);
    expect(merged.regions).toHaveLength(1);
    expect(merged.regions[0]).toMatchObject({
      id: 1,
      startSample: 0,
      endSample: 120,
      kind: 'sibilant',
      gainDb: -6,
      label: 'long',
      fadeInSamples: 4,
      fadeOutSamples: 7,
      onsetSample: 22,
      offsetSample: 118,
    });
    expect(merged.nextId).toBe(4);
    expect(() => mergeRegions(list, [1, 3])).toThrow(/no region between.*received 2/);
    expect(() => mergeRegions(list, [1])).toThrow(/at least two/);
    expect(() => mergeRegions(list, [1, 1])).toThrow(/at least two/);
    expect(() => mergeRegions(list, [1, 9])).toThrow(/received 9/);
  });

  test('measured edges that contradict each other after a merge are both forgotten', () => {
    const list = listOf(
      { startSample: 0, endSample: 10, onsetSample: 90 },
      { startSample: 10, endSample: 20, offsetSample: 15 },
    );
    expect(mergeRegions(list, [1, 2]).regions[0]).toMatchObject({ onsetSample: null, offsetSample: null });
  });
});

describe('marking a range by hand', () => {
  const list = listOf(
    {
      startSample: 100,
      endSample: 200,
      kind: 'sibilant',
      fadeInSamples: 10,
      fadeOutSamples: 10,
      offsetSample: 195,
    },
    { startSample: 300, endSample: 400, kind: 'breath', onsetSample: 305, offsetSample: 395 },
    { startSample: 400, endSample: 500, kind: 'burst' },
  );

  test('on free ground, touching others, it changes nothing else', () => {
    const marked = markRange(list, 200, 300, { gainDb: -9, label: 'pop' });
    expect(spans(marked)).toEqual([
      [1, 100, 200],
      [4, 200, 300],
      [2, 300, 400],
      [3, 400, 500],
    ]);
    expect(byId(marked, 4)).toMatchObject({ kind: 'custom', gainDb: -9, label: 'pop' });
    expect(marked.regions[0]).toBe(list.regions[0]);
  });

  test('it cuts back what it overlaps and removes what it covers', () => {
    const marked = markRange(list, 150, 450);
    expect(spans(marked)).toEqual([
      [1, 100, 150],
      [4, 150, 450],
      [3, 450, 500],
    ]);
    expect(byId(marked, 1)).toMatchObject({ fadeInSamples: 10, fadeOutSamples: 10, offsetSample: null });
    expect(spans(markRange(list, 300, 400))).toEqual([
      [1, 100, 200],
      [4, 300, 400],
      [3, 400, 500],
    ]);
  });

  test('inside a region it leaves a piece on either side, the later one with a new id', () => {
    const marked = markRange(list, 320, 330);
    expect(spans(marked)).toEqual([
      [1, 100, 200],
      [2, 300, 320],
      [4, 320, 330],
      [5, 330, 400],
      [3, 400, 500],
    ]);
    expect(byId(marked, 2)).toMatchObject({ kind: 'breath', onsetSample: 305, offsetSample: null });
    expect(byId(marked, 5)).toMatchObject({ kind: 'breath', onsetSample: null, offsetSample: 395 });
    expect(marked.nextId).toBe(6);
  });

  test('every sample of the range is its own afterwards and every sample outside keeps its region’s kind', () => {
    // Closed form by brute force: one kind per sample before and after.
    const kinds = (l: RegionList): (RegionKind | undefined)[] => {
      const out = new Array<RegionKind | undefined>(l.lengthSamples).fill(undefined);
      for (const r of l.regions) out.fill(r.kind, r.startSample, r.endSample);
      return out;
    };
    for (let start = 90; start < 510; start += 7) {
      for (let end = start + 1; end < 520; end += 13) {
        const expected = kinds(list).fill('custom', start, end);
        expect(kinds(markRange(list, start, end))).toEqual(expected);
      }
    }
  });

  test('it refuses a locked region, even by one sample, and may touch it', () => {
    const locked = setLocked(list, 2, true);
    expect(() => markRange(locked, 250, 301)).toThrow(/locked region; received 2/);
    expect(() => markRange(locked, 399, 450)).toThrow(/locked/);
    expect(spans(markRange(locked, 250, 300))).toContainEqual([4, 250, 300]);
    expect(() => markRange(list, 5, 5)).toThrow(RangeError);
    expect(() => markRange(list, 990, 1001)).toThrow(RangeError);
  });
});

describe('locks, ids and many regions at once', () => {
  const list = setLocked(
    listOf(
      { startSample: 0, endSample: 10 },
      { startSample: 10, endSample: 20 },
      { startSample: 30, endSample: 40 },
    ),
    2,
    true,
  );

  test('no edit but setLocked touches a locked region', () => {
    const attempts: [string, () => RegionList][] = [
      ['removeRegion', () => removeRegion(list, [1, 2])],
      ['moveEdges', () => moveEdges(list, 2, { endSample: 15 })],
      ['splitRegion', () => splitRegion(list, 2, 15)],
      ['mergeRegions', () => mergeRegions(list, [1, 2])],
      ['setGain', () => setGain(list, [1, 2], -6)],
      ['setFades', () => setFades(list, 2, { fadeInSamples: 1 })],
      ['setBypassed', () => setBypassed(list, 2, true)],
      ['setLabel', () => setLabel(list, 2, 'x')],
      ['setKind', () => setKind(list, 2, 'burst')],
    ];
    for (const [name, attempt] of attempts) {
      expect(attempt, name).toThrow(RangeError);
      expect(attempt).toThrow(new RegExp(`^${name}: .*locked`));
    }
    expect(byId(setGain(setLocked(list, 2, false), 2, -6), 2).gainDb).toBe(-6);
  });

  test('no edit takes an unknown id or something that is no id', () => {
    for (const id of [0, -1, 99, 1.5, Number.NaN]) {
      expect(() => removeRegion(list, id)).toThrow(RangeError);
      expect(() => moveEdges(list, id, {})).toThrow(RangeError);
      expect(() => splitRegion(list, id, 5)).toThrow(RangeError);
      expect(() => setGain(list, [1, id], -6)).toThrow(RangeError);
      expect(() => setLocked(list, id, true)).toThrow(RangeError);
    }
    expect(() => setGain(list, undefined as unknown as number, -6)).toThrow(TypeError);
  });

  test('a decision passes over locked regions and names no region that is in order', () => {
    const seen: number[] = [];
    const decided = editRegions(list, (region) => {
      seen.push(region.id);
      return { gainDb: -6 };
    });
    expect(seen).toEqual([1, 3]);
    expect(decided.regions.map((r) => r.gainDb)).toEqual([-6, 0, -6]);
    expect(decided.regions[1]).toBe(list.regions[1]);
    expect(() => editRegions(list, (r) => ({ endSample: r.endSample + 1 }))).toThrow(/must not overlap/);
    expect(() => editRegions(list, (r) => (r.id === 3 ? { startSample: 19 } : undefined))).toThrow(
      /against region 2/,
    );
    // Two regions may move in one go where neither could move alone first.
    const apart = listOf({ startSample: 0, endSample: 10 }, { startSample: 10, endSample: 20 });
    const moved = editRegions(apart, (r) => ({ startSample: r.startSample + 5, endSample: r.endSample + 5 }));
    expect(spans(moved)).toEqual([
      [1, 5, 15],
      [2, 15, 25],
    ]);
  });

  test('a gain of −0 is stored as 0 and a reason can be given with a gain', () => {
    expect(byId(setGain(list, 1, -0), 1).gainDb).toBe(0);
    const reason = { rule: 'quieter than the lead', numbers: { leadLevelDb: -20 } };
    expect(byId(setGain(list, 1, -3, { reason }), 1).reason).toEqual(reason);
    expect(byId(setGain(list, 1, -3), 1).reason).toEqual(HAND_REASON);
  });

  test('ids are not reused after the newest region is removed', () => {
    const again = insertRegion(removeRegion(list, 3), { startSample: 30, endSample: 40 });
    expect(again.regions.map((r) => r.id)).toEqual([1, 2, 4]);
  });
});

test('a broken list is refused at the border with the field named', () => {
  const good = listOf({ startSample: 0, endSample: 10 }, { startSample: 10, endSample: 20 });
  const broken = (regions: unknown, rest: object = {}): unknown => ({ ...good, ...rest, regions });
  const [a, b] = good.regions as [Region, Region];
  expect(checkRegionList(good)).toBeUndefined();
  expect(checkRegionList(broken([]))).toBeUndefined();
  expect(() => checkRegionList(null)).toThrow(TypeError);
  expect(() => checkRegionList([])).toThrow(TypeError);
  expect(() => checkRegionList(broken({}))).toThrow(/checkRegionList: list\.regions must be an array/);
  expect(() => checkRegionList(broken([b, a]))).toThrow(/list\.regions\[1\]\.startSample/);
  expect(() => checkRegionList(broken([a, { ...b, startSample: 9 }]))).toThrow(
    /list\.regions\[1\]\.startSample/,
  );
  expect(() => checkRegionList(broken([a, { ...b, id: 1 }]))).toThrow(
    /list\.regions\[1\]\.id must be unique/,
  );
  expect(() => checkRegionList(broken([a, { ...b, id: 3 }]))).toThrow(/list\.regions\[1\]\.id/);
  expect(() => checkRegionList(broken([a, null]))).toThrow(TypeError);
  expect(() => checkRegionList(broken([], { sampleRateHz: 7999 }))).toThrow(/list\.sampleRateHz/);
  expect(() => checkRegionList(broken([], { lengthSamples: 2 ** 53 }))).toThrow(/list\.lengthSamples/);
  expect(() => checkRegionList(broken([a, b], { lengthSamples: 19 }))).toThrow(
    /list\.regions\[1\]\.endSample/,
  );
  expect(() => checkRegionList(broken([], { nextId: 0 }))).toThrow(/list\.nextId/);
});

test('positions of ten hours at 192 kHz, beyond 32 bits, are kept exactly', () => {
  const lengthSamples = 10 * 3600 * 192000;
  const long = createRegionList({ sampleRateHz: 192000, lengthSamples });
  const list = insertRegion(long, { startSample: lengthSamples - 7, endSample: lengthSamples });
  expect(spans(splitRegion(list, 1, lengthSamples - 3))).toEqual([
    [1, 6911999993, 6911999997],
    [2, 6911999997, 6912000000],
  ]);
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import type { MoveOptions } from '../../src/regions/remap-regions.js';
import { setLocked } from '../../src/regions/set-flags.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { stretchRegions } from '../../src/regions/stretch-regions.js';
import { regionLists } from './arbitraries.js';

const listOf = (...drafts: RegionDraft[]): RegionList =>
  insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 }), drafts);

const whole = {
  startSample: 300,
  endSample: 400,
  kind: 'sibilant' as const,
  onsetSample: 310,
  offsetSample: 390,
  gainDb: -6,
  fadeInSamples: 10,
  fadeOutSamples: 20,
  label: 'x',
  band: { lowHz: 4000, highHz: 9000 },
};

describe('a take that was moved', () => {
  test('takes every position along and nothing else', () => {
    const list = listOf(whole);
    const { list: moved, lost } = shiftRegions(list, 50);
    expect(lost).toEqual([]);
    expect(moved).toEqual({
      ...list,
      regions: [
        { ...list.regions[0], startSample: 350, endSample: 450, onsetSample: 360, offsetSample: 440 },
      ],
    });
    expect(shiftRegions(moved, -50).list).toEqual(list);
    expect(shiftRegions(list, 0).list).toBe(list);
  });

  test('loses what leaves the clip at either end, and says which and how', () => {
    const list = listOf({ startSample: 0, endSample: 100 }, { startSample: 100, endSample: 160 }, whole, {
      startSample: 880,
      endSample: 1000,
    });
    const earlier = shiftRegions(list, -120);
    expect(earlier.lost).toEqual([
      { region: list.regions[0], reason: 'outside' },
      { region: list.regions[1], reason: 'clipped' },
    ]);
    expect(earlier.list.regions.map((r) => [r.id, r.startSample, r.endSample])).toEqual([
      [2, 0, 40],
      [3, 180, 280],
      [4, 760, 880],
    ]);
    const later = shiftRegions(list, 620);
    expect(later.lost).toEqual([
      { region: list.regions[2], reason: 'clipped' },
      { region: list.regions[3], reason: 'outside' },
    ]);
    // 80 of its 100 samples are left, and its end with the offset at 390 + 620 is gone.
    expect(later.list.regions[2]).toMatchObject({ startSample: 920, endSample: 1000, offsetSample: null });
    expect(later.list.nextId).toBe(list.nextId);
    expect(shiftRegions(list, 620, { lengthSamples: 2000 }).lost).toEqual([]);
    expect(shiftRegions(list, 0, { lengthSamples: 390 }).lost.map(({ reason }) => reason)).toEqual([
      'clipped',
      'outside',
    ]);
  });

  test('of one that touches the clip’s end by a sample a sample is kept, and of one beyond nothing', () => {
    const list = listOf({ startSample: 300, endSample: 400 });
    expect(shiftRegions(list, 699).list.regions[0]).toMatchObject({ startSample: 999, endSample: 1000 });
    expect(shiftRegions(list, 700)).toMatchObject({ list: { regions: [] }, lost: [{ reason: 'outside' }] });
    expect(shiftRegions(list, -399).list.regions[0]).toMatchObject({ startSample: 0, endSample: 1 });
    expect(shiftRegions(list, -400).lost).toHaveLength(1);
    for (const far of [Number.MAX_SAFE_INTEGER, -Number.MAX_SAFE_INTEGER])
      expect(shiftRegions(list, far).lost).toEqual([{ region: list.regions[0], reason: 'outside' }]);
  });

  test('moves a locked region only when told to, and then changes nothing else of it', () => {
    const list = setLocked(listOf(whole), 1, true);
    expect(() => shiftRegions(list, 5)).toThrow(
      /^shiftRegions: list must hold no locked region unless moveLocked/,
    );
    expect(() => stretchRegions(list, 2)).toThrow(RangeError);
    expect(shiftRegions(list, 0).list).toBe(list);
    expect(stretchRegions(list, 1).list).toBe(list);
    expect(shiftRegions(list, 5, { moveLocked: true }).list.regions[0]).toEqual({
      ...list.regions[0],
      startSample: 305,
      endSample: 405,
      onsetSample: 315,
      offsetSample: 395,
    });
  });
});

describe('a take that was stretched', () => {
  test('has every position times the ratio, fades too, and lasts as much longer', () => {
    const { list, lost } = stretchRegions(listOf(whole), 1.5);
    expect(lost).toEqual([]);
    expect(list.lengthSamples).toBe(1500);
    expect(list.regions[0]).toEqual({
      ...listOf(whole).regions[0],
      startSample: 450,
      endSample: 600,
      onsetSample: 465,
      offsetSample: 585,
      fadeInSamples: 15,
      fadeOutSamples: 30,
    });
  });

  test('rounds each position to the nearest sample, so that errors do not add up', () => {
    // 1/3: 300 → 100, 400 → 133.3, 310 → 103.3, 390 → 130; the fades end at 103.3 and begin at 126.7.
    const { list } = stretchRegions(listOf(whole), 1 / 3);
    expect(list.lengthSamples).toBe(333);
    expect(list.regions[0]).toMatchObject({
      startSample: 100,
      endSample: 133,
      onsetSample: 103,
      offsetSample: 130,
    });
    expect(list.regions[0]).toMatchObject({ fadeInSamples: 3, fadeOutSamples: 6 });
  });

  test('drops what becomes shorter than a sample and cuts what leaves a stated length', () => {
    const list = listOf({ startSample: 101, endSample: 104 }, { startSample: 300, endSample: 400 });
    expect(stretchRegions(list, 0.1).lost).toEqual([{ region: list.regions[0], reason: 'tooShort' }]);
    expect(stretchRegions(list, 2, { lengthSamples: 700 }).lost).toEqual([
      { region: list.regions[1], reason: 'clipped' },
    ]);
    expect(stretchRegions(list, 2, { lengthSamples: 600 }).lost[0]?.reason).toBe('outside');
  });
});

test('any move or stretch gives a sound list that keeps its order and, but for positions, its regions; or it is reported', () => {
  const move = fc.oneof(
    fc
      .integer({ min: -6000, max: 6000 })
      .map((by) => (list: RegionList) => shiftRegions(list, by, { moveLocked: true })),
    fc
      .double({ min: 0.01, max: 3, noNaN: true })
      .map((ratio) => (list: RegionList) => stretchRegions(list, ratio, { moveLocked: true })),
    fc
      .integer({ min: 0, max: 9000 })
      .map(
        (lengthSamples) => (list: RegionList) => shiftRegions(list, 1, { lengthSamples, moveLocked: true }),
      ),
  );
  fc.assert(
    fc.property(regionLists, move, (list, run) => {
      const { list: moved, lost } = run(list);
      checkRegionList(moved);
      const gone = new Set(lost.filter(({ reason }) => reason !== 'clipped').map(({ region }) => region.id));
      expect(moved.regions.map(({ id }) => id)).toEqual(
        list.regions.map(({ id }) => id).filter((id) => !gone.has(id)),
      );
      for (const region of moved.regions) {
        const { gainDb, label, locked, kind, band, reason } = list.regions.find(
          ({ id }) => id === region.id,
        )!;
        expect(region).toMatchObject({ gainDb, label, locked, kind, reason });
        expect(region.band).toEqual(band);
      }
    }),
    { numRuns: 500 },
  );
});

test('distances, ratios and lengths that are none are refused', () => {
  const list = listOf(whole);
  for (const by of [0.5, Number.NaN, 2 ** 53]) expect(() => shiftRegions(list, by)).toThrow(RangeError);
  for (const ratio of [0, -1, 0.009, 101, Number.NaN, Number.POSITIVE_INFINITY])
    expect(() => stretchRegions(list, ratio)).toThrow(RangeError);
  for (const lengthSamples of [-1, 0.5, Number.NaN]) {
    const options: MoveOptions = { lengthSamples };
    expect(() => shiftRegions(list, 1, options)).toThrow(RangeError);
    expect(() => stretchRegions(list, 2, options)).toThrow(RangeError);
  }
  expect(() => shiftRegions(list, '1' as unknown as number)).toThrow(TypeError);
});

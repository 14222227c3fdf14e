import { describe, expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { markRange } from '../../src/regions/mark-range.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import type { RegionBand, RegionList } from '../../src/regions/region.js';
import { regionById } from '../../src/regions/region-by-id.js';
import { setBand } from '../../src/regions/set-band.js';
import { setFades } from '../../src/regions/set-fades.js';
import { setBypassed, setKind, setLabel, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { splitRegion } from '../../src/regions/split-region.js';

const BAND: RegionBand = { lowHz: 4000, highHz: 11000 };
const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 }), [
  { startSample: 100, endSample: 4900, kind: 'sibilant', gainDb: -6 },
  { startSample: 9000, endSample: 9600, kind: 'burst', gainDb: -3 },
]);
const banded = setBand(list, 1, BAND);
const bandOf = (edited: RegionList, id = 1): RegionBand | undefined => regionById(edited, id)?.band;

describe('setBand', () => {
  test('sets the band of the regions named and nothing else', () => {
    expect(banded.regions[0]).toStrictEqual({ ...list.regions[0], band: BAND });
    expect(banded.regions[1]).toBe(list.regions[1]);
    expect(list.regions[0]).not.toHaveProperty('band');
    expect(setBand(list, [1, 2], BAND).regions.map((region) => region.band)).toEqual([BAND, BAND]);
  });

  test('null takes the band away, field and all', () => {
    expect(setBand(banded, 1, null)).toStrictEqual(list);
    expect(setBand(list, 1, null)).toStrictEqual(list);
  });

  test('keeps a frozen copy with the two ends alone', () => {
    const mine = { lowHz: 4000, highHz: 11000, name: 'mine' };
    const kept = bandOf(setBand(list, 1, mine));
    mine.lowHz = 5000;
    expect(kept).toStrictEqual(BAND);
    expect(Object.isFrozen(kept)).toBe(true);
  });

  test('takes the whole spectrum, and the ends of it, for 8 to 192 kHz', () => {
    for (const sampleRateHz of [8000, 11025, 44100, 48000, 192000]) {
      const half = sampleRateHz / 2;
      const clip = insertRegion(createRegionList({ sampleRateHz, lengthSamples: 9 }), {
        startSample: 0,
        endSample: 9,
      });
      for (const band of [
        { lowHz: 0, highHz: half },
        { lowHz: 0, highHz: 20 },
        { lowHz: half - 20, highHz: half },
      ])
        expect(checkRegionList(setBand(clip, 1, band))).toBeUndefined();
      expect(() => setBand(clip, 1, { lowHz: 0, highHz: half + 0.5 })).toThrow(RangeError);
      expect(() => setBand(clip, 1, { lowHz: half - 19.5, highHz: half })).toThrow(RangeError);
    }
  });

  test('names what is wrong with a band', () => {
    const broken: readonly (readonly [unknown, ErrorConstructor, RegExp])[] = [
      [{ lowHz: -1, highHz: 200 }, RangeError, /setBand: region\.band\.lowHz must lie within \[0, 23980\]/],
      [
        { lowHz: 200, highHz: 100 },
        RangeError,
        /setBand: region\.band\.highHz must lie within \[220, 24000\]/,
      ],
      [{ lowHz: 100, highHz: 119 }, RangeError, /band\.highHz must lie within \[120, 24000\]; received 119/],
      [{ lowHz: Number.NaN, highHz: 100 }, RangeError, /band\.lowHz/],
      [{ lowHz: 0, highHz: Number.POSITIVE_INFINITY }, RangeError, /band\.highHz/],
      [{ lowHz: 0 }, TypeError, /band\.highHz must be a number; received undefined/],
      [{ lowHz: '0', highHz: 100 }, TypeError, /band\.lowHz must be a number/],
      [[0, 100], TypeError, /region\.band must be an object; received an array of 2/],
      [100, TypeError, /region\.band must be an object/],
      [undefined, TypeError, /setBand: band must be \{ lowHz, highHz \} or null; received undefined/],
    ];
    for (const [band, kind, message] of broken) {
      expect(() => setBand(list, 1, band as RegionBand)).toThrow(kind);
      expect(() => setBand(list, 1, band as RegionBand)).toThrow(message);
    }
    expect(() => setBand(list, 7, BAND)).toThrow(/setBand: ids/);
    expect(() => setBand(setLocked(list, 1, true), 1, BAND)).toThrow(
      /setBand: ids must not name a locked region/,
    );
  });
});

describe('the band of a region', () => {
  test('is kept by every edit that is about something else', () => {
    const edits: readonly ((l: RegionList) => RegionList)[] = [
      (l) => setGain(l, 1, -12),
      (l) => setFades(l, 1, { fadeInSamples: 48 }),
      (l) => setBypassed(l, 1, true),
      (l) => setLocked(l, 1, true),
      (l) => setKind(l, 1, 'breath'),
      (l) => setLabel(l, 1, 'x'),
      (l) => moveEdges(l, 1, { endSample: 5000 }),
      (l) => editRegions(l, () => ({ gainDb: -1 })),
      (l) => markRange(l, 4000, 4100),
    ];
    for (const edit of edits) expect(bandOf(edit(banded))).toStrictEqual(BAND);
  });

  test('goes to both pieces of a split, and to a merge from its longest part', () => {
    expect(
      splitRegion(banded, 1, 1000)
        .regions.slice(0, 2)
        .map((region) => region.band),
    ).toEqual([BAND, BAND]);
    expect(bandOf(mergeRegions(banded, [1, 2]))).toStrictEqual(BAND);
    expect(bandOf(mergeRegions(setBand(list, 2, BAND), [1, 2]))).toBeUndefined();
  });

  test('can be given to a new region, and taken away by a decision', () => {
    const marked = markRange(list, 20000, 20100, { band: { lowHz: 0, highHz: 150 } });
    expect(bandOf(marked, 3)).toStrictEqual({ lowHz: 0, highHz: 150 });
    expect(editRegions(banded, () => ({ band: undefined }))).toStrictEqual(list);
  });

  test('that is broken makes its list unsound', () => {
    const [first] = list.regions;
    const broken = { ...list, regions: [{ ...first, band: { lowHz: 0, highHz: 24001 } }] };
    expect(() => checkRegionList(broken)).toThrow(/checkRegionList: list\.regions\[0\]\.band\.highHz/);
    expect(() => checkRegionList({ ...list, regions: [{ ...first, band: null }] })).toThrow(TypeError);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import { summariseTake } from '../../src/gain/summarise-take.js';
import type { LevelTable, RegionLevel } from '../../src/levels/region-level.js';
import { REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from './lists.js';

/** Levels in which region `id` has the sibilance `byId[id − 1]`. */
function levelsOf(list: RegionList, sibilances: readonly (number | null)[]): LevelTable {
  const entries = list.regions.map(({ id, kind }): [number, RegionLevel] => [
    id,
    {
      id,
      kind,
      durationSeconds: 0.1,
      rmsDbfs: -20,
      peakDbfs: -10,
      weightedDbfs: -15,
      peakFrequencyHz: 6000,
      centroidHz: 6000,
      spreadHz: 1500,
      skewness: 0,
      excessKurtosis: 0,
      voiceDbfs: -20,
      sibilanceDb: sibilances[id - 1] ?? null,
      percentile: 50,
      sound: 's-like',
    },
  ]);
  return { sampleRateHz: list.sampleRateHz, byId: new Map(entries), voiceDbfs: -20 };
}

/** Eleven sibilants of 100 samples, the k-th with a sibilance of −k dB and this gain. */
const scale = Array.from({ length: 11 }, (_, k) => -k);
const eleven = (gainDb: (k: number) => number): RegionList =>
  listOf(
    11000,
    ...scale.map((_, k) =>
      region({ startSample: 1000 * k, endSample: 1000 * k + 100, gainDb: gainDb(k) + 0 }),
    ),
  );

describe('summariseTake', () => {
  // computed from its figures: the quantiles at 0.1 and 0.9 of eleven numbers in even steps are the second and the tenth.
  it('gives the spread of the sibilance before and after, gains added', () => {
    const list = eleven((k) => -(10 - k) / 2);
    const { before, after } = summariseTake(list, levelsOf(list, scale));
    expect(before).toMatchObject({ count: 11, p10Db: -9, p90Db: -1, spreadDb: 8 });
    // Sibilance −k and gain −(10 − k)/2 make −5 − k/2: half the spread.
    expect(after).toMatchObject({ count: 11, p10Db: -9.5, p90Db: -5.5, spreadDb: 4 });
  });

  it('leaves the spread alone where one cut is the same for all, and where all are bypassed', () => {
    const flat = eleven(() => -6);
    const cut = summariseTake(flat, levelsOf(flat, scale));
    expect([cut.after?.spreadDb, cut.after?.p90Db]).toEqual([8, -7]);
    const off = { ...flat, regions: flat.regions.map((r) => ({ ...r, bypassed: true })) };
    const bypassed = summariseTake(off, levelsOf(off, scale));
    expect(bypassed.after).toEqual(bypassed.before);
  });

  it('takes the measures of the rendered clip where it has them', () => {
    const list = eleven(() => -6);
    const measured = levelsOf(
      list,
      scale.map((x) => x / 4 - 6),
    );
    const { before, after } = summariseTake(list, levelsOf(list, scale), { levelsAfter: measured });
    expect([before?.spreadDb, after?.spreadDb, after?.p90Db]).toEqual([8, 2, -6.25]);
  });

  it('measures other kinds when asked, and has null where nothing has a sibilance', () => {
    const list = listOf(
      1000,
      region({ startSample: 0, endSample: 10, kind: 'fricative' }),
      region({ startSample: 20, endSample: 30, kind: 'sibilant' }),
    );
    const levels = levelsOf(list, [-15, null]);
    expect(summariseTake(list, levels).before).toBeNull();
    expect(summariseTake(list, levels, { kinds: 'fricative' }).after?.p50Db).toBe(-21);
    expect(summariseTake(list, levels, { kinds: ['sibilant', 'fricative'] }).before?.count).toBe(1);
  });

  it('counts by kind what there is, what is changed, and the largest cut', () => {
    const list = listOf(
      1000,
      region({ startSample: 0, endSample: 10, gainDb: -6 }),
      region({ startSample: 10, endSample: 30, gainDb: -9 }),
      region({ startSample: 40, endSample: 50, gainDb: -20, bypassed: true }),
      region({ startSample: 60, endSample: 70, kind: 'breath', gainDb: 0 }),
      region({ startSample: 80, endSample: 90, kind: 'burst', gainDb: 3 }),
    );
    const summary = summariseTake(list, levelsOf(list, []));
    expect(summary).toMatchObject({ count: 5, changedCount: 3, largestCutDb: 9 });
    expect(summary.byKind.sibilant).toEqual({ count: 3, changedCount: 2, largestCutDb: 9 });
    expect(summary.byKind.breath).toEqual({ count: 1, changedCount: 0, largestCutDb: 0 });
    expect(summary.byKind.burst).toEqual({ count: 1, changedCount: 1, largestCutDb: 0 });
    expect(Object.keys(summary.byKind)).toEqual(REGION_KINDS);
    expect([summary.touchedSeconds, summary.touchedShare]).toEqual([40 / 48000, 0.04]);
  });

  it('touches exactly the samples whose gain is not 1, where there are no fades', () => {
    // A gain nearer to 0 dB than a double can tell is an active region that changes nothing.
    const audible = anyList().map((list) => ({
      ...list,
      regions: list.regions.map((r) => ({
        ...r,
        fadeInSamples: 0,
        fadeOutSamples: 0,
        gainDb: Math.abs(r.gainDb) < 1e-6 ? 0 : r.gainDb,
      })),
    }));
    fc.assert(
      fc.property(audible, (list) => {
        const curve = new Float64Array(list.lengthSamples);
        gainCurveInto(curve, list, 0);
        const touched = curve.filter((gain) => gain !== 1).length;
        const summary = summariseTake(list, levelsOf(list, []));
        expect(summary.touchedShare).toBe(touched === 0 ? 0 : touched / list.lengthSamples);
        const kinds = Object.values(summary.byKind);
        expect(kinds.reduce((sum, { count }) => sum + count, 0)).toBe(list.regions.length);
        expect(Math.max(...kinds.map(({ largestCutDb }) => largestCutDb))).toBe(summary.largestCutDb);
      }),
    );
  });

  it('counts flagged regions once each', () => {
    const list = eleven(() => -12);
    const flags = [{ id: 2 }, { id: 5, floorDb: -14 }, { id: 2 }];
    expect(summariseTake(list, levelsOf(list, scale), { flags }).flagCount).toBe(2);
    expect(summariseTake(list, levelsOf(list, scale)).flagCount).toBe(0);
  });

  it('sums up an empty list and an empty clip as nothing', () => {
    for (const list of [listOf(0), listOf(100)]) {
      const summary = summariseTake(list, levelsOf(list, []));
      expect(summary).toMatchObject({
        count: 0,
        changedCount: 0,
        largestCutDb: 0,
        touchedSeconds: 0,
        touchedShare: 0,
        before: null,
        after: null,
        flagCount: 0,
      });
      expect(Object.isFrozen(summary) && Object.isFrozen(summary.byKind)).toBe(true);
    }
  });

  it('refuses flags on regions that are not there, and unknown kinds', () => {
    const list = eleven(() => -6);
    const levels = levelsOf(list, scale);
    expect(() => summariseTake(list, levels, { flags: [{ id: 12 }] })).toThrow('flags[0].id must be the id');
    for (const flag of [3, null, undefined])
      expect(() => summariseTake(list, levels, { flags: [flag as never] })).toThrow(
        new TypeError('summariseTake: flags[0].id must be a number; received undefined'),
      );
    expect(() => summariseTake(list, levels, { flags: new Set() as never })).toThrow(
      'flags must be an array',
    );
    expect(() => summariseTake(list, levels, { kinds: 'hiss' as never })).toThrow(RangeError);
  });
});

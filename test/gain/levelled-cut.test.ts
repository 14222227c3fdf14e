import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_EVENED_CUT_OPTIONS, evenedCut } from '../../src/gain/evened-cut.js';
import { DEFAULT_LEVELLED_CUT_OPTIONS, levelledCut } from '../../src/gain/levelled-cut.js';
import { shortenedFlags } from '../../src/gain/shortened-flags.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import { type GuardOptions, overCutFloors } from '../../src/levels/over-cut-floors.js';
import { sibilanceSpread } from '../../src/levels/sibilance-spread.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { REGION_KINDS, type RegionKind } from '../../src/regions/region.js';
import { anyTake, esses, type MeasuredRow, measuredTake } from '../lib/measured-take.js';

const levelled = (rows: readonly MeasuredRow[], options = {}) => {
  const { list, levels } = measuredTake(rows);
  return levelledCut(list, levels, options).regions.map(({ gainDb }) => gainDb);
};
const evened = (rows: readonly MeasuredRow[], options = {}) => {
  const { list, levels } = measuredTake(rows);
  return evenedCut(list, levels, options).regions.map(({ gainDb }) => gainDb);
};

describe('levelledCut', () => {
  it("brings each down to the take's softest fifth: the loud ones more, the soft ones not at all", () => {
    // The 20th percentile of six values is the second.
    expect(levelled(esses(-8, -4, -7, -5, -6, -3))).toEqual([0, -3, 0, -2, -1, -4]);
  });

  it('brings each down to the median where told, or to any level', () => {
    expect(levelled(esses(-8, -4, -7, -5, -6), { targetPercentile: 50 })).toEqual([0, -2, 0, -1, 0]);
    expect(levelled(esses(-8, -4, -7, -5, -6), { targetDb: -5 })).toEqual([0, -1, 0, 0, 0]);
    expect(levelled(esses(-8, -4), { targetDb: -7.5 })).toEqual([0, -3.5]);
  });

  it('cuts by 6 dB at most, or as told', () => {
    expect(levelled(esses(-8, -8, -8, 3))).toEqual([0, 0, 0, -6]);
    expect(levelled(esses(-8, -8, -8, 3), { maxCutDb: 2 })).toEqual([0, 0, 0, -2]);
    expect(levelled(esses(-8, -8, -8, 3), { maxCutDb: 0 })).toEqual([0, 0, 0, 0]);
  });

  it('levels s-like and sh-like apart, and lets a rare one borrow from the rest', () => {
    const sh = (sibilanceDb: number) => ({ sibilanceDb, sound: 'sh-like' as const });
    // All: −6, −6, −6, −6, −1, quartile −6. The sh alone has −1; with 4 borrowed it is (−1 + 4·(−6)) / 5 = −5.
    expect(levelled([...esses(-6, -6, -6, -6), sh(-1)])).toEqual([0, 0, 0, 0, -4]);
    // Four of each: own quartiles −9 and −3, that of all −9 (place 1.75 of eight: between two of −9); the sh go to (4·(−3) + 4·(−9)) / 8 = −6.
    expect(levelled([...esses(-9, -9, -9, -9), ...[-3, -3, -3, -3].map(sh)])).toEqual([
      0, 0, 0, 0, -3, -3, -3, -3,
    ]);
  });

  it('stops at the floor of the guard, unless that is off', () => {
    // One s of −10 dB: floor −16 (see overCutFloors).
    expect(levelled(esses(-10), { targetDb: -30, maxCutDb: 40 })).toEqual([-6]);
    expect(levelled(esses(-10), { targetDb: -30, maxCutDb: 40, marginDb: 5 })).toEqual([-3]);
    expect(levelled(esses(-10), { targetDb: -30, maxCutDb: 40, guard: false })).toEqual([-20]);
    // An s under the floor as recorded is left alone.
    expect(levelled(esses(-25, -10, -10), { targetDb: -40 })).toEqual([0, -6, -6]);
  });

  it('takes the target from the whole take, also for one region of it', () => {
    const rows = esses(-8, -4, -7, -5, -6, -3);
    expect(levelled(rows, { ids: [2] })).toEqual([0, -3, 0, 0, 0, 0]);
    expect(levelled(rows, { between: { startSample: 9600, endSample: 9601 } })).toEqual([0, -3, 0, 0, 0, 0]);
  });

  it('levels other kinds among themselves when asked for', () => {
    const breaths = [-30, -20, -26].map((sibilanceDb) => ({ kind: 'breath' as const, sibilanceDb }));
    // Half way between the first two of −30, −26, −20.
    const options = { kinds: ['breath'], targetPercentile: 25 } as const;
    expect(levelled([...esses(0), ...breaths], options)).toEqual([0, 0, -6, -2]);
  });

  it('sets gains: what was there before does not count, and a soft one comes back to 0 dB', () => {
    const before = esses(-8, -4).map((row) => ({ ...row, fields: { gainDb: -9 } }));
    expect(levelled(before, { targetDb: -6 })).toEqual([0, -2]);
  });

  it('says why: the numbers of each gain', () => {
    const { list, levels } = measuredTake(esses(-8, -4));
    const [, loud] = levelledCut(list, levels, { targetDb: -6 }).regions;
    // Median −6: th is midway between −14 and −18, floor 2 dB above.
    const numbers = { sibilanceDb: -4, targetDb: -6, wantedCutDb: 2, maxCutDb: 6, floorDb: -14, gainDb: -2 };
    expect(loud?.reason).toEqual({ rule: 'levelledCut', numbers });
    const off = levelledCut(list, levels, { targetDb: -6, guard: false }).regions[0];
    expect(off?.reason.numbers).not.toHaveProperty('floorDb');
  });

  it('leaves regions without a measure as they are', () => {
    const { list, levels } = measuredTake([{ sibilanceDb: null, fields: { gainDb: -5 } }]);
    expect(levelledCut(list, levels)).toBe(list);
    expect(levelledCut(list, { ...levels, byId: new Map() })).toBe(list);
    expect(evenedCut(list, levels)).toBe(list);
    expect(evenedCut(list, { ...levels, byId: new Map() })).toBe(list);
    // One that the table does not know, beside one that it does.
    const two = measuredTake(esses(-8, -2));
    const known = new Map([...two.levels.byId].filter(([id]) => id === 1));
    expect(evenedCut(two.list, { ...two.levels, byId: known }).regions[1]).toBe(two.list.regions[1]);
    const empty = measuredTake([]);
    expect(levelledCut(empty.list, empty.levels)).toBe(empty.list);
  });

  it('refuses what is out of range', () => {
    const { list, levels } = measuredTake(esses(-8));
    expect(() => levelledCut(list, levels, { targetDb: 101 })).toThrow(
      /levelledCut: targetDb must lie within/,
    );
    expect(() => levelledCut(list, levels, { targetDb: Number.NaN })).toThrow(RangeError);
    expect(() => levelledCut(list, levels, { targetPercentile: -1 })).toThrow(/targetPercentile/);
    expect(() => levelledCut(list, levels, { maxCutDb: -6 })).toThrow(/maxCutDb/);
    expect(() => levelledCut(list, levels, { marginDb: 100 })).toThrow(/levelledCut: marginDb/);
    expect(() => levelledCut(list, levels, { kinds: ['growl' as RegionKind] })).toThrow(/kinds/);
    expect(() => levelledCut(list, levels, { between: { startSample: 5, endSample: 4 } })).toThrow(
      /between.endSample/,
    );
    expect(() => levelledCut(list, { ...levels, sampleRateHz: 8000 })).toThrow(
      /levelledCut: levels.sampleRateHz/,
    );
    expect(Object.isFrozen(DEFAULT_LEVELLED_CUT_OPTIONS)).toBe(true);
  });
});

describe('evenedCut', () => {
  it('takes half of what lies above the 10th percentile', () => {
    // Eleven values: the 10th percentile is the second.
    const rows = esses(-12, -11, -10, -9, -8, -7, -6, -5, -4, -3, -2);
    expect(evened(rows)).toEqual([0, 0, -0.5, -1, -1.5, -2, -2.5, -3, -3.5, -4, -4.5]);
    expect(evened(rows, { share: 0.25, referencePercentile: 0 }).slice(0, 3)).toEqual([0, -0.25, -0.5]);
    expect(evened(rows, { share: 0 })).toEqual(new Array(11).fill(0));
    expect(evened(rows, { share: 1, maxCutDb: 3 }).slice(0, 6)).toEqual([0, 0, -1, -2, -3, -3]);
  });

  it('lets the spread from the 10th to the 90th percentile fall by the share itself', () => {
    const rises = fc.array(fc.double({ min: 0, max: 5, noNaN: true }), { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(rises, fc.double({ min: 0, max: 1, noNaN: true }), (steps, share) => {
        let at = -30;
        // Eleven values, so that both percentiles are values of the list (places 1 and 9).
        const { list, levels } = measuredTake(esses(-30, ...steps.map((step) => (at += step))));
        const before = sibilanceSpread(levels, list)!.spreadDb;
        const even = evenedCut(list, levels, { share, maxCutDb: 120, guard: false });
        // 1e-9 dB: rounding of a few sums.
        expect(Math.abs(sibilanceSpread(levels, even)!.spreadDb - (1 - share) * before)).toBeLessThan(1e-9);
      }),
    );
  });

  it('has one reference for s-like and sh-like, so that a louder sound stays the louder one', () => {
    expect(evened([...esses(-8), { sibilanceDb: -2, sound: 'sh-like' }], { referencePercentile: 0 })).toEqual(
      [0, -3],
    );
  });

  it('says why, and stops at the floor of the guard', () => {
    const { list, levels } = measuredTake(esses(-8, -4));
    const [, loud] = evenedCut(list, levels, { referencePercentile: 0 }).regions;
    const limits = { wantedCutDb: 2, maxCutDb: 6, floorDb: -14, gainDb: -2 };
    expect(loud?.reason).toEqual({
      rule: 'evenedCut',
      numbers: { sibilanceDb: -4, referenceDb: -8, share: 0.5, ...limits },
    });
    const careful = { share: 1, referencePercentile: 0, maxCutDb: 40 };
    // Median −13: th at −21, floor −19, and the reference below it.
    expect(evened(esses(-24, -13, -2), careful)).toEqual([0, -6, -17]);
    expect(evened(esses(-24, -13, -2), { ...careful, guard: false })).toEqual([0, -11, -22]);
  });

  it('refuses what is out of range', () => {
    const { list, levels } = measuredTake(esses(-8));
    expect(() => evenedCut(list, levels, { share: 1.1 })).toThrow(
      /evenedCut: share must lie within \[0, 1\]/,
    );
    expect(() => evenedCut(list, levels, { referencePercentile: 101 })).toThrow(/referencePercentile/);
    expect(() => evenedCut(list, levels, { maxCutDb: 121 })).toThrow(/maxCutDb/);
    expect(() => evenedCut(list, levels, { guard: null as unknown as boolean })).toThrow(TypeError);
    expect(Object.isFrozen(DEFAULT_EVENED_CUT_OPTIONS)).toBe(true);
  });
});

describe('both computed cuts, whatever the take and the settings', () => {
  const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const choices = {
    kinds: fc.subarray([...REGION_KINDS]),
    minConfidence: fc.oneof(fc.constant(0), number(0, 1)),
    maxCutDb: number(0, 120),
    guard: fc.boolean(),
    marginDb: number(-60, 60),
  };
  const levelling = fc.record(
    {
      ...choices,
      targetDb: fc.oneof(fc.constant(null), number(-100, 100)),
      targetPercentile: number(0, 100),
    },
    { requiredKeys: [] },
  );
  const evening = fc.record(
    { ...choices, share: number(0, 1), referencePercentile: number(0, 100) },
    { requiredKeys: [] },
  );
  const decisions = fc.oneof(
    levelling.map((options) => ({ options, cut: levelledCut as typeof evenedCut, rule: 'levelledCut' })),
    evening.map((options) => ({ options, cut: evenedCut, rule: 'evenedCut' })),
  );

  /** What the guard was told. */
  const guardOf = ({ guard, marginDb }: GuardOptions) => ({
    ...(guard === undefined ? {} : { guard }),
    ...(marginDb === undefined ? {} : { marginDb }),
  });

  it('never boost, never pass the greatest cut or the floor, and leave locked and bypassed regions as they are', () => {
    fc.assert(
      fc.property(anyTake, decisions, ({ list, levels }, { options, cut, rule }) => {
        const next = cut(list, levels, options);
        checkRegionList(next);
        const floors = overCutFloors(list, levels, guardOf(options));
        next.regions.forEach((region, i) => {
          const before = list.regions[i]!;
          const { sibilanceDb } = levels.byId.get(region.id)!;
          if (region.locked || region.bypassed || sibilanceDb === null) expect(region).toBe(before);
          if (region.reason.rule !== rule) {
            expect(region).toBe(before);
            return;
          }
          expect(region.gainDb).toBeLessThanOrEqual(0);
          expect(Object.is(region.gainDb, -0)).toBe(false);
          expect(region.gainDb).toBeGreaterThanOrEqual(-(options.maxCutDb ?? 6));
          expect(region.reason.numbers).toMatchObject({ gainDb: region.gainDb });
          expect({ ...region, gainDb: 0, reason: null }).toEqual({ ...before, gainDb: 0, reason: null });
          const floorDb = floors.get(region.id)?.floorDb ?? Number.NEGATIVE_INFINITY;
          // 1e-9 dB: rounding of the difference and the sum of two levels.
          if (region.gainDb < 0) expect(sibilanceDb! + region.gainDb).toBeGreaterThanOrEqual(floorDb - 1e-9);
        });
      }),
      { numRuns: 300 },
    );
  });

  it('change nothing more the second time, and do not depend on the gains before', () => {
    fc.assert(
      fc.property(anyTake, decisions, ({ list, levels }, { options, cut }) => {
        const once = cut(list, levels, options);
        expect(cut(once, levels, options)).toBe(once);
        const measured = list.regions.filter(
          ({ id, locked, bypassed }) => !locked && !bypassed && levels.byId.get(id)?.sibilanceDb !== null,
        );
        const regions = list.regions.map((r) => (measured.includes(r) ? { ...r, gainDb: -3 } : r));
        const kinds = options.kinds ?? ['sibilant'];
        const again = cut({ ...list, regions }, levels, options);
        once.regions.forEach((region, i) => {
          const isTaken = kinds.includes(region.kind) && region.confidence >= (options.minConfidence ?? 0);
          if (measured.some(({ id }) => id === region.id) && isTaken)
            expect(again.regions[i]?.gainDb).toBe(region.gainDb);
        });
      }),
    );
  });

  it('cut the louder of two like sounds at least as much', () => {
    fc.assert(
      fc.property(anyTake, decisions, ({ list, levels }, { options, cut, rule }) => {
        const decided = cut(list, levels, options).regions.filter(({ reason }) => reason.rule === rule);
        const sorted = decided
          .map(({ id, gainDb }) => ({ level: levels.byId.get(id)!, gainDb }))
          .sort((a, b) => a.level.sibilanceDb! - b.level.sibilanceDb!);
        for (const kind of [
          'sibilant s-like',
          'sibilant sh-like',
          'breath null',
          'burst null',
          'fricative null',
        ]) {
          const like = sorted.filter(({ level }) => `${level.kind} ${level.sound}` === kind);
          // 1e-9 dB: rounding again.
          for (let i = 1; i < like.length; i++)
            expect(like[i]!.gainDb).toBeLessThanOrEqual(like[i - 1]!.gainDb + 1e-9);
        }
      }),
    );
  });

  it('raise no flag of the guard that they were given', () => {
    fc.assert(
      fc.property(anyTake, decisions, ({ list, levels }, { options, cut, rule }) => {
        const next = cut(list, levels, options);
        const decided = new Set(
          next.regions.filter(({ reason }) => reason.rule === rule).map(({ id }) => id),
        );
        expect(overCutFlags(next, levels, guardOf(options)).filter(({ id }) => decided.has(id))).toEqual([]);
        const bare = { ...next, regions: next.regions.filter(({ id }) => decided.has(id)) };
        expect(shortenedFlags(bare, levels)).toEqual([]);
      }),
    );
  });

  it('do not change the list and the table that they are given', () => {
    fc.assert(
      fc.property(anyTake, decisions, ({ list, levels }, { options, cut }) => {
        const before = JSON.stringify([list, [...levels.byId]]);
        cut(list, levels, options);
        expect(JSON.stringify([list, [...levels.byId]])).toBe(before);
      }),
    );
  });
});

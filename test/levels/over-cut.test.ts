import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { stepGain } from '../../src/gain/step-gain.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import { DEFAULT_GUARD_OPTIONS, overCutFloors } from '../../src/levels/over-cut-floors.js';
import { setGain } from '../../src/regions/set-gain.js';
import { anyTake, esses, fricatives, type MeasuredRow, measuredTake } from '../lib/measured-take.js';

const floorOf = (rows: readonly MeasuredRow[], options = {}) => {
  const { list, levels } = measuredTake(rows);
  return overCutFloors(list, levels, options).get(1);
};
const flagged = (rows: readonly MeasuredRow[], gainDb: number, options = {}) => {
  const { list, levels } = measuredTake(rows);
  return overCutFlags(setGain(list, 1, gainDb), levels, options);
};
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

// Behrens and Blumstein 1988 (from notes on it): noise less vowel level in dB before i, a, u, of two speakers.
const SPEAKERS = [
  { s: [-1, -4, -1], sh: [-4, -8, -5], f: [-21, -23, -18], th: [-18, -21, -15] },
  { s: [-3, -8, -2], sh: [1, -8, 1], f: [-14, -19, -12], th: [-17, -23, -12] },
];

describe('published listening figures', () => {
  it.each(SPEAKERS)(
    'flags an s of speaker %# that is brought down to the level of their own th or f',
    (voice) => {
      const rows = [
        ...esses(mean(voice.s), ...voice.s),
        ...voice.sh.map((sibilanceDb) => ({ sibilanceDb, sound: 'sh-like' as const })),
        ...fricatives(...voice.f, ...voice.th),
      ];
      // The stimuli of the same study: scaled down to the ratio of [f] and of [θ], s was heard right 60 % of the time (from notes on it).
      for (const target of [mean(voice.th), mean(voice.f)])
        expect(flagged(rows, target - mean(voice.s)).map(({ id }) => id)).toEqual([1]);
    },
  );

  it('flags a cut of 11 to 19 dB of an average s, where the voice has no f or th to compare with', () => {
    // Means of s relative to the vowel: −10 dB (Jongman, Wayland and Wong 2000, from notes on it), −3.2 dB (Behrens and Blumstein 1988, computed from its figures).
    for (const sibilanceDb of [-10, -3.2])
      for (let cutDb = 11; cutDb <= 19; cutDb++) expect(flagged(esses(sibilanceDb), -cutDb)).toHaveLength(1);
  });

  it('does not flag the usual 6 dB of an average s, which practice hears as no lisp', () => {
    for (const sibilanceDb of [-10, -3.2]) expect(flagged(esses(sibilanceDb), -6)).toEqual([]);
    // By the measures of Jongman, Wayland and Wong (from notes on it), with enough f (−17) and th (−18) of its own.
    const own = fricatives(-17, -18, -17, -18, -17, -18, -17, -18);
    expect(flagged([...esses(-10), ...own], -6)).toEqual([]);
  });

  it('never flags 6 dB of a sibilant that lies within 4 dB of its vowel, whatever the voice, the margin and the rest', () => {
    const options = fc.record({ marginDb: fc.double({ min: -60, max: 60, noNaN: true }) });
    const loud = fc.oneof(fc.constant(-4), fc.double({ min: -4, max: 30, noNaN: true }));
    fc.assert(
      fc.property(anyTake, loud, options, (take, sibilanceDb, option) => {
        const rows = take.list.regions.map(({ id, kind }) => {
          const level = take.levels.byId.get(id)!;
          return { kind, sibilanceDb: level.sibilanceDb, sound: level.sound ?? ('s-like' as const) };
        });
        expect(flagged([{ sibilanceDb }, ...rows], -6, option)).toEqual([]);
        expect(flagged([{ sibilanceDb, sound: 'sh-like' }, ...rows], -6, option)).toEqual([]);
      }),
    );
  });
});

describe('overCutFloors', () => {
  it('lies 2 dB above where th is believed to be: 8 dB below s, or midway from there to −18 dB', () => {
    expect(floorOf(esses(-12))?.floorDb).toBe(-18);
    expect(floorOf(esses(-10))?.floorDb).toBe(-16);
    expect(floorOf(esses(-4))?.floorDb).toBe(-13);
    expect(floorOf(esses(0))?.floorDb).toBe(-11);
  });

  it('takes the median of the s, with sh 1 dB lower', () => {
    expect(floorOf(esses(-20, -12, -2))?.floorDb).toBe(-18);
    expect(floorOf([{ sibilanceDb: -9, sound: 'sh-like' }])?.floorDb).toBe(-16);
  });

  it('never lies above −10 dB', () => {
    expect(floorOf(esses(8))?.floorDb).toBe(-10);
    expect(floorOf(esses(-10), { marginDb: 60 })?.floorDb).toBe(-10);
  });

  it('goes by the f and th of the voice alone where it has 8, and says so', () => {
    const floor = floorOf([...esses(-6), ...fricatives(-30, -24, -22, -21, -19, -18, -16, -12)]);
    expect(floor).toMatchObject({ floorDb: -18, source: 'own voice' });
    expect(floor?.numbers).toEqual({
      thDb: -20,
      marginDb: 2,
      usualDb: -6,
      priorDb: -16,
      fricativeCount: 8,
      fricativeDb: -20,
    });
  });

  it('mixes them with the published figures in proportion where it has fewer', () => {
    // Prior −16 for s at −6: half of it and half of −20 are −18, a quarter of −20 gives −17.
    expect(floorOf([...esses(-6), ...fricatives(-20, -20, -20, -20)])).toMatchObject({
      floorDb: -16,
      source: 'both',
    });
    expect(floorOf([...esses(-6), ...fricatives(-20, -20)])?.floorDb).toBe(-15);
    const none = floorOf(esses(-6));
    expect(none).toMatchObject({ floorDb: -14, source: 'published' });
    expect(none?.numbers).not.toHaveProperty('fricativeDb');
  });

  it('does not believe f and th nearer than 8 dB to the usual s', () => {
    expect(floorOf([...esses(-6), ...fricatives(...new Array<number>(8).fill(-7))])?.floorDb).toBe(-12);
  });

  it('moves with the margin and goes with the guard', () => {
    expect(floorOf(esses(-10), { marginDb: 5 })?.floorDb).toBe(-13);
    expect(floorOf(esses(-10), { marginDb: -4 })?.floorDb).toBe(-22);
    const { list, levels } = measuredTake(esses(-10));
    expect(overCutFloors(list, levels, { guard: false }).size).toBe(0);
  });

  it('is one for all sibilants that have a sibilance, and for nothing else', () => {
    const { list, levels } = measuredTake([
      ...esses(-8, -12),
      { sibilanceDb: null },
      ...fricatives(-20),
      { kind: 'burst', sibilanceDb: -5 },
    ]);
    const floors = overCutFloors(list, levels);
    expect([...floors.keys()]).toEqual([1, 2]);
    expect(floors.get(1)).toBe(floors.get(2));
    expect(overCutFloors(...asArguments(measuredTake(fricatives(-20)))).size).toBe(0);
    expect(overCutFloors(...asArguments(measuredTake([]))).size).toBe(0);
  });

  it('does not look at gains, bypass and locks', () => {
    fc.assert(
      fc.property(anyTake, ({ list, levels }) => {
        const bare = {
          ...list,
          regions: list.regions.map((r) => ({ ...r, gainDb: 0, bypassed: false, locked: false })),
        };
        expect(overCutFloors(list, levels)).toEqual(overCutFloors(bare, levels));
      }),
    );
  });

  it('gives finite numbers alone, as a file can carry', () => {
    fc.assert(
      fc.property(anyTake, ({ list, levels }) => {
        for (const { floorDb, numbers } of overCutFloors(list, levels).values())
          for (const number of [floorDb, ...Object.values(numbers)])
            expect(Number.isFinite(number)).toBe(true);
      }),
    );
  });

  it('refuses margins out of range, switches that are none and tables of another take', () => {
    const { list, levels } = measuredTake(esses(-10));
    expect(() => overCutFloors(list, levels, { marginDb: 61 })).toThrow(
      /overCutFloors: marginDb must lie within/,
    );
    expect(() => overCutFloors(list, levels, { marginDb: Number.NaN })).toThrow(RangeError);
    expect(() => overCutFloors(list, levels, { guard: 1 as unknown as boolean })).toThrow(TypeError);
    expect(() => overCutFloors(list, { ...levels, sampleRateHz: 44_100 })).toThrow(/levels.sampleRateHz/);
    expect(() => overCutFlags(list, null as never)).toThrow(/overCutFlags: levels must be a table/);
    expect(Object.isFrozen(DEFAULT_GUARD_OPTIONS)).toBe(true);
  });
});

describe('overCutFlags', () => {
  it('flags explicit presses, which stay as they are: two are −12 dB, three −18 dB', () => {
    const { list, levels } = measuredTake(esses(-10));
    const twice = stepGain(fixedCut(list));
    const thrice = stepGain(twice);
    expect(overCutFlags(fixedCut(list), levels)).toEqual([]);
    expect([twice, thrice].map(({ regions }) => regions[0]?.gainDb)).toEqual([-12, -18]);
    // Floor −16; −10 − 12 = −22 is 6 dB under it, −10 − 18 = −28 is 12.
    expect(overCutFlags(twice, levels)[0]).toMatchObject({
      id: 1,
      sibilanceAfterDb: -22,
      floorDb: -16,
      byDb: 6,
    });
    expect(overCutFlags(thrice, levels)[0]?.byDb).toBe(12);
  });

  it('says what may be heard, and never that it is', () => {
    expect(flagged(esses(-10), -9)[0]?.message).toBe(
      'may be heard as th: 19.0 dB below the voice beside it, 3.0 dB under the guard',
    );
    expect(flagged([{ sibilanceDb: -9, sound: 'sh-like' }], -9)[0]?.message).toMatch(
      /^may be heard as another sound: /,
    );
  });

  it('flags no sound as recorded, boosted or bypassed, however soft, and none without a measure', () => {
    const soft = [...esses(-30), ...esses(-5, -5, -5)];
    expect(flagged(soft, 0)).toEqual([]);
    expect(flagged(soft, 3)).toEqual([]);
    expect(flagged(soft, -1)).toHaveLength(1);
    expect(flagged([{ sibilanceDb: -10, fields: { bypassed: true } }], -40)).toEqual([]);
    expect(flagged([{ sibilanceDb: null }, ...esses(-10)], -40)).toEqual([]);
    expect(flagged([...fricatives(-17), ...esses(-10)], -40)).toEqual([]);
    const { list, levels } = measuredTake(esses(-10));
    expect(overCutFlags(setGain(list, 1, -40), { ...levels, byId: new Map() })).toEqual([]);
  });

  it('flags nothing that ends on the floor, and all that ends below it, in order of time', () => {
    fc.assert(
      fc.property(anyTake, ({ list, levels }) => {
        const floors = overCutFloors(list, levels);
        const under = list.regions.filter(({ id, gainDb, bypassed }) => {
          const floor = floors.get(id);
          // 1e-9 dB is far below anything heard and far above the rounding of a sum of two levels.
          return (
            floor &&
            gainDb < 0 &&
            !bypassed &&
            levels.byId.get(id)!.sibilanceDb! + gainDb < floor.floorDb - 1e-9
          );
        });
        expect(overCutFlags(list, levels).map(({ id }) => id)).toEqual(under.map(({ id }) => id));
      }),
    );
  });

  it('draws the line at the floor itself', () => {
    // One s of −10 dB: floor −16. A hundredth of a decibel is more than rounding and less than anything heard.
    expect(flagged(esses(-10), -6)).toEqual([]);
    expect(flagged(esses(-10), -6.01)).toHaveLength(1);
  });

  it('is silent where the guard is off, and moves with its margin', () => {
    expect(flagged(esses(-10), -40, { guard: false })).toEqual([]);
    expect(flagged(esses(-10), -9, { marginDb: -2 })).toEqual([]);
    expect(flagged(esses(-10), -6, { marginDb: 3 })).toHaveLength(1);
  });
});

function asArguments({ list, levels }: ReturnType<typeof measuredTake>): [typeof list, typeof levels] {
  return [list, levels];
}

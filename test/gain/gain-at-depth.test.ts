import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainAtDepth } from '../../src/gain/gain-at-depth.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { evenly, fadedLists } from '../lib/faded-lists.js';
import { listOf, region } from './lists.js';

const depths = fc.oneof(fc.constantFrom(0, 1, 2), evenly(0, 30));

describe('gainAtDepth', () => {
  it('multiplies decibels: at twice the depth a hold has the square of its gain, at half the root', () => {
    const list = listOf(
      100,
      region({ startSample: 0, endSample: 10, gainDb: -6 }),
      region({ startSample: 20, endSample: 30, gainDb: 4 }),
    );
    // 12 digits: both sides are powers of ten in doubles.
    for (const depth of [0.5, 2])
      for (const sample of [5, 25])
        expect(gainAt(gainAtDepth(list, { depth }), sample)).toBeCloseTo(gainAt(list, sample) ** depth, 12);
    expect(gainAtDepth(list, { depth: 3 }).regions.map(({ gainDb }) => gainDb)).toEqual([-18, 12]);
  });

  it('makes up the whole depth behind the cut that is already there, in holds and in decibel fades', () => {
    fc.assert(
      fc.property(fadedLists(400, 0), evenly(1, 4), (drawn, depth) => {
        // Nothing may reach the mute, where the two are held back at different depths.
        const regions = drawn.regions.map((own) => ({
          ...own,
          gainDb: Math.max(own.gainDb, -25),
          fadeShape: 'decibel' as const,
        }));
        const list = { ...drawn, regions };
        const [whole, rest] = [gainAtDepth(list, { depth }), gainAtDepth(list, { depth: depth - 1 })];
        let worst = 0;
        for (let s = 0; s < list.lengthSamples; s++)
          worst = Math.max(worst, Math.abs((gainAt(list, s) * gainAt(rest, s)) / gainAt(whole, s) - 1));
        // Some ten roundings of 2^-53 each, and a power whose logarithm is up to ln 1e5 = 11.5.
        expect(worst).toBeLessThan(1e-13);
      }),
    );
  });

  it('gives a sound list whose gains stay within the limits and lie no higher than depth · gain of a cut allows', () => {
    fc.assert(
      fc.property(
        fadedLists(),
        depths,
        fc.oneof(fc.constant(120), evenly(0, 120)),
        (list, depth, maxCutDb) => {
          const deep = gainAtDepth(list, { depth, maxCutDb });
          checkRegionList(deep);
          deep.regions.forEach(({ gainDb, bypassed }, i) => {
            const before = list.regions[i]!.gainDb;
            if (bypassed || before === 0) expect(gainDb).toBe(before);
            else if (before < 0) expect(gainDb).toBe(0 - Math.min(-before * depth, maxCutDb));
            else expect(gainDb).toBe(Math.min(before * depth, 24));
          });
        },
      ),
    );
  });

  it('comes back as the same list at depth 1 and twice over', () => {
    fc.assert(
      fc.property(fadedLists(), (list) => {
        expect(gainAtDepth(list, { depth: 1 })).toBe(list);
        const none = gainAtDepth(list, { depth: 0 });
        expect(gainAtDepth(none, { depth: 5 })).toBe(none);
        expect(
          Array.from({ length: list.lengthSamples }, (_, s) => gainAt(none, s)).every((g) => g === 1),
        ).toBe(true);
      }),
    );
  });

  it('scales locked regions, too, which stay locked, and leaves the first list as it was', () => {
    const list = listOf(100, region({ startSample: 0, endSample: 10, locked: true, gainDb: -8 }));
    const deep = gainAtDepth(list, { depth: 2, maxCutDb: 12 });
    expect(deep.regions[0]).toMatchObject({
      gainDb: -12,
      locked: true,
      reason: { rule: 'gainAtDepth', numbers: { fromDb: -8, depth: 2, maxCutDb: 12, gainDb: -12 } },
    });
    expect(list.regions[0]?.gainDb).toBe(-8);
    expect(Object.isFrozen(deep.regions[0])).toBe(true);
  });

  it('keeps edges, fades and bands, and scales the chosen kinds alone', () => {
    const band = { lowHz: 4000, highHz: 9000 };
    const first = region({ startSample: 3, endSample: 50, fadeInSamples: 7, fadeOutSamples: 9, band });
    const list = listOf(100, first, region({ startSample: 60, endSample: 90, kind: 'breath', gainDb: -9 }));
    const deep = gainAtDepth(list, { depth: 2, kinds: ['sibilant'] });
    expect(deep.regions[0]).toEqual({ ...first, gainDb: -12, reason: deep.regions[0]?.reason });
    expect(deep.regions[1]).toBe(list.regions[1]);
    expect(gainAtDepth(list, { depth: 2, kinds: [] })).toBe(list);
  });

  it('stops at the mute and never gives −0', () => {
    const list = listOf(100, region({ startSample: 0, endSample: 10, gainDb: -6 }));
    const gain = (depth: number, maxCutDb = 120) => gainAtDepth(list, { depth, maxCutDb }).regions[0]?.gainDb;
    expect(gain(1000)).toBe(-120);
    expect(gain(Number.MAX_VALUE)).toBe(-120);
    // toBe tells −0 from 0.
    expect(gain(0)).toBe(0);
    expect(gain(2, 0)).toBe(0);
  });

  it('refuses depths and limits out of range and unknown kinds', () => {
    const list = listOf(100, region({ startSample: 0, endSample: 10 }));
    const run = (options: object) => () => gainAtDepth(list, options as { depth: number });
    expect(run({ depth: -0.1 })).toThrow(RangeError);
    expect(run({ depth: Number.POSITIVE_INFINITY })).toThrow(RangeError);
    expect(run({})).toThrow(TypeError);
    expect(run({ depth: 1, maxCutDb: -1 })).toThrow(RangeError);
    expect(run({ depth: 1, maxCutDb: 121 })).toThrow(RangeError);
    expect(run({ depth: 1, kinds: ['vowel'] })).toThrow(RangeError);
    expect(run({ depth: 1, kinds: 'sibilant' })).toThrow(TypeError);
  });
});

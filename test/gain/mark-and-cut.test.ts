import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import { type MarkAndCutOptions, markAndCut } from '../../src/gain/mark-and-cut.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { regionsBetween } from '../../src/regions/regions-between.js';
import { anyList, listOf, noise } from './lists.js';

const LENGTH = 10_000;
const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: LENGTH });
const list = (...drafts: RegionDraft[]): RegionList => insertRegions(empty, drafts);
/** id, start, end and gain of every region. */
const rows = ({ regions }: RegionList): number[][] =>
  regions.map((r) => [r.id, r.startSample, r.endSample, r.gainDb]);
const curve = (of: RegionList): Float64Array => {
  const out = new Float64Array(of.lengthSamples);
  gainCurveInto(out, of, 0);
  return out;
};
const SIX_DB = 10 ** (-6 / 20);

describe('a range that is marked and cut', () => {
  test('becomes a region of −6 dB, and 6 dB less with every further press, down to the least gain', () => {
    let marked = markAndCut(empty, 1000, 3000, null);
    expect(rows(marked)).toEqual([[1, 1000, 3000, -6]]);
    for (let press = 2; press <= 20; press++) {
      marked = markAndCut(marked, 1000, 3000, null);
      expect(rows(marked)).toEqual([[1, 1000, 3000, -6 * press]]);
    }
    expect(markAndCut(marked, 1000, 3000, null)).toBe(marked);
    expect(marked.regions[0]?.reason).toEqual({ rule: 'markAndCut', numbers: { stepDb: -6, gainDb: -120 } });
  });

  test('has fades of 3 ms at its edges, at most a third of it, or as asked', () => {
    const fades = (end: number, options: MarkAndCutOptions = {}) => {
      const region = markAndCut(empty, 1000, end, null, options).regions[0];
      return [region?.fadeInSamples, region?.fadeOutSamples];
    };
    expect(fades(3000)).toEqual([144, 144]);
    expect(fades(1100)).toEqual([33, 33]);
    expect(fades(1002)).toEqual([0, 0]);
    expect(fades(3000, { fadeSeconds: 0.001 })).toEqual([48, 48]);
    expect(fades(3000, { fadeSeconds: 0 })).toEqual([0, 0]);
    // A find has none yet; a fade that is there stays.
    const found = list({ startSample: 1000, endSample: 3000, fadeOutSamples: 20 });
    expect(markAndCut(found, 1000, 3000, null).regions[0]).toMatchObject({
      fadeInSamples: 144,
      fadeOutSamples: 20,
    });
  });

  test('is snapped to zero crossings inside it, in audio of one channel only', () => {
    // Zero crossings at 12.5, 36.5, ...: every 24 samples, each reported at the first sample after it.
    const wave = Float32Array.from({ length: LENGTH }, (_, i) => Math.cos((Math.PI * (i - 0.5)) / 24));
    expect(rows(markAndCut(empty, 1000, 3000, wave))).toEqual([[1, 1021, 2989, -6]]);
    expect(rows(markAndCut(empty, 1000, 3000, [wave, wave]))).toEqual([[1, 1000, 3000, -6]]);
    expect(rows(markAndCut(empty, 1000, 3000, wave, { snapSeconds: 0 }))).toEqual([[1, 1000, 3000, -6]]);
    expect(rows(markAndCut(empty, 1000, 3000, wave, { snapSeconds: 0.0003 }))).toEqual([[1, 1000, 2989, -6]]);
    // A second press in reach of the first goes to its edges.
    const twice = markAndCut(markAndCut(empty, 1000, 3000, wave), 1040, 3030, wave);
    expect(rows(twice)).toEqual([[1, 1021, 2989, -12]]);
  });

  test('splits what lies partly in it, cuts what lies inside, and fills the gaps', () => {
    const before = list(
      { startSample: 500, endSample: 1500, gainDb: -3, kind: 'sibilant' },
      { startSample: 2000, endSample: 2500, gainDb: 0, kind: 'breath' },
      { startSample: 2800, endSample: 3500, gainDb: 2, kind: 'burst' },
    );
    const after = markAndCut(before, 1000, 3000, null);
    expect(rows(after)).toEqual([
      [1, 500, 1000, -3],
      [4, 1000, 1500, -9],
      [6, 1500, 2000, -6],
      [2, 2000, 2500, -6],
      [7, 2500, 2800, -6],
      [3, 2800, 3000, -4],
      [5, 3000, 3500, 2],
    ]);
    expect(after.regions.map((r) => r.kind)).toEqual([
      'sibilant',
      'sibilant',
      'custom',
      'breath',
      'custom',
      'burst',
      'burst',
    ]);
    expect(after.nextId).toBe(8);
    expect(rows(markAndCut(after, 1000, 3000, null)).map((row) => row[3])).toEqual([
      -3, -15, -12, -12, -12, -10, 2,
    ]);
  });

  test('cuts a region in three where it lies within one, with fades from gain to gain at the new edges', () => {
    const before = list({
      startSample: 1000,
      endSample: 5000,
      gainDb: -3,
      fadeInSamples: 200,
      fadeOutSamples: 300,
    });
    const after = markAndCut(before, 2000, 3000, null);
    expect(rows(after)).toEqual([
      [1, 1000, 2000, -3],
      [2, 2000, 3000, -9],
      [3, 3000, 5000, -3],
    ]);
    const fades = after.regions.map((r) => [r.fadeInSamples, r.fadeOutSamples]);
    expect(fades).toEqual([
      [200, 0],
      [144, 144],
      [0, 300],
    ]);
    const [was, is] = [curve(before), curve(after)];
    for (let i = 0; i < LENGTH; i++) {
      const inside = i >= 2144 && i < 2856;
      // Three roundings of a double at most on either side.
      if (i < 2000 || i >= 3000) expect(Math.abs(is[i]! - was[i]!)).toBeLessThan(1e-15);
      else if (inside) expect(Math.abs(is[i]! / was[i]! - SIX_DB)).toBeLessThan(1e-14);
    }
  });

  test('shortens a split fade by the new one, which takes a third', () => {
    const before = list({ startSample: 1000, endSample: 2000, gainDb: -6, fadeOutSamples: 300 });
    const after = markAndCut(before, 1900, 2500, null);
    expect(rows(after)).toEqual([
      [1, 1000, 1900, -6],
      [2, 1900, 2000, -12],
      [3, 2000, 2500, -6],
    ]);
    // A third of 100 samples, and the rest. The gap's region leaves that junction to it.
    expect(after.regions[1]).toMatchObject({ fadeInSamples: 33, fadeOutSamples: 67 });
    expect(after.regions[2]).toMatchObject({ fadeInSamples: 0, fadeOutSamples: 144 });
  });

  test('goes to the edge of a region within a millisecond, so that no sliver is left', () => {
    const before = list({ startSample: 1003, endSample: 2960, gainDb: -6 });
    expect(rows(markAndCut(before, 1000, 3000, null))).toEqual([[1, 1003, 2960, -12]]);
    expect(rows(markAndCut(before, 1040, 2950, null))).toEqual([[1, 1003, 2960, -12]]);
    // 49 samples are more than a millisecond.
    expect(rows(markAndCut(before, 954, 2960, null))).toHaveLength(2);
  });

  test('switches a bypassed region on and cuts it from what was heard of it', () => {
    const before = list({ startSample: 1000, endSample: 2000, gainDb: -9, bypassed: true });
    const after = markAndCut(before, 1000, 2000, null);
    expect(after.regions[0]).toMatchObject({ gainDb: -6, bypassed: false });
  });

  test('comes back as the very same list where a locked region lies in it, and not beside one', () => {
    const before = list(
      { startSample: 1000, endSample: 2000, locked: true },
      { startSample: 2500, endSample: 2600, gainDb: -3 },
    );
    for (const [from, to] of [
      [1500, 1600],
      [500, 3000],
      [500, 1100],
      [1900, 3000],
      [1000, 2000],
    ] as const)
      expect(markAndCut(before, from, to, null)).toBe(before);
    // Its edge is in reach: the range ends there.
    expect(rows(markAndCut(before, 500, 1040, null))).toContainEqual([3, 500, 1000, -6]);
    expect(rows(markAndCut(before, 2000, 2500, null))).toContainEqual([3, 2000, 2500, -6]);
  });

  test('is refused where it is empty, inverted or outside, or a setting or the audio is wrong', () => {
    for (const [from, to] of [
      [10, 10],
      [20, 10],
      [-1, 10],
      [0, LENGTH + 1],
      [0.5, 10],
      [0, Number.NaN],
    ] as const)
      expect(() => markAndCut(empty, from, to, null)).toThrow(/^markAndCut: (start|end)Sample must/);
    for (const options of [
      { stepDb: 1 },
      { stepDb: -145 },
      { stepDb: Number.NaN },
      { fadeSeconds: -1 },
      { fadeSeconds: 0.2 },
      { snapSeconds: 0.002 },
      { kind: 'vowel' },
    ])
      expect(() => markAndCut(empty, 0, 10, null, options as MarkAndCutOptions)).toThrow(RangeError);
    expect(() => markAndCut(empty, 0, 10, new Float32Array(5))).toThrow(/channels must be 10000 samples/);
    expect(() => markAndCut(empty, 100, 200, new Float32Array(LENGTH).fill(Number.NaN))).toThrow(RangeError);
    expect(() => markAndCut(empty, 0, 10, 'x' as never)).toThrow(TypeError);
    expect(() => markAndCut(empty, 0, 10, undefined as never)).toThrow(TypeError);
  });
});

test('on any list, every press takes 6 dB from all that is heard in the range, and nothing from what is free beside it', () => {
  const drawn = fc.tuple(
    anyList(0),
    fc.nat(300),
    fc.integer({ min: 1, max: 200 }),
    fc.constantFrom(0, 0.0001, 0.001),
  );
  let several = 0;
  fc.assert(
    fc.property(drawn, fc.boolean(), ([any, from, length, snapSeconds], mono) => {
      // Room for another press: a gain that is at its end already would not be cut.
      const regions = any.regions.map((r) => ({ ...r, gainDb: Math.max(r.gainDb, -100) }));
      const before = listOf(any.lengthSamples + 300, ...regions);
      const start = Math.min(from, before.lengthSamples - 1);
      const end = Math.min(start + length, before.lengthSamples);
      const samples = noise(before.lengthSamples, from + 1);
      const options = { snapSeconds, fadeSeconds: 0.0002 };
      const channels = mono ? samples : null;
      const once = markAndCut(before, start, end, channels, options);
      const twice = markAndCut(once, start, end, channels, options);
      checkRegionList(once);
      checkRegionList(twice);
      // The second press finds the first one's edges: nothing but gains differs.
      expect(
        twice.regions.map((r) => [r.id, r.startSample, r.endSample, r.fadeInSamples, r.fadeOutSamples]),
      ).toEqual(
        once.regions.map((r) => [r.id, r.startSample, r.endSample, r.fadeInSamples, r.fadeOutSamples]),
      );
      const cut = once.regions.filter(({ reason }) => reason.rule === 'markAndCut');
      const [first, last] = [cut[0]!, cut[cut.length - 1]!];
      const reach = Math.floor(snapSeconds * 48000);
      expect(Math.abs(first.startSample - start)).toBeLessThanOrEqual(reach);
      expect(Math.abs(last.endSample - end)).toBeLessThanOrEqual(reach);
      for (let i = 1; i < cut.length; i++) expect(cut[i]!.startSample).toBe(cut[i - 1]!.endSample);
      if (cut.length > 1) several++;
      const [was, is] = [curve(before), curve(once)];
      // A split may leave an old fade less room: those are checked by examples above.
      const inFade = (i: number): boolean =>
        regionsBetween(before, i, i + 1).some(
          (r) => i < r.startSample + r.fadeInSamples || i >= r.endSample - r.fadeOutSamples,
        );
      for (let i = first.startSample + first.fadeInSamples; i < last.endSample - last.fadeOutSamples; i++)
        // Rounding of a few doubles.
        if (!inFade(i)) expect(is[i]!).toBeLessThanOrEqual(was[i]! * SIX_DB * (1 + 1e-12));
      for (let i = 0; i < before.lengthSamples; i++) {
        if (i >= start - reach && i < end + reach) continue;
        if (regionsBetween(before, i, i + 1).length === 0) expect(is[i]).toBe(was[i]);
      }
    }),
    { numRuns: 400 },
  );
  // Ranges over one region or none are the easy case.
  expect(several).toBeGreaterThan(50);
});

import { describe, expect, it } from 'vitest';
import { type NeighbourRule, neighbourVoicePower } from '../../src/levels/neighbour-voice.js';
import { noiseSpan } from '../../src/levels/noise-span.js';
import { percentileOf } from '../../src/levels/percentile.js';
import type { LevelTable, RegionLevel } from '../../src/levels/region-level.js';
import { sibilanceSpread } from '../../src/levels/sibilance-spread.js';
import { sibilantSounds } from '../../src/levels/sibilant-sound.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionKind } from '../../src/regions/region.js';
import { quantileOf, rising } from '../../src/signal/quantile-of.js';
import { region } from '../lib/region.js';

describe('percentileOf', () => {
  it('is the share that is no greater, by hand', () => {
    const sorted = rising([3, 1, 2, 2]);
    expect(sorted).toEqual([1, 2, 2, 3]);
    expect([0, 1, 1.5, 2, 3, 4].map((value) => percentileOf(sorted, value))).toEqual([
      0, 25, 25, 75, 100, 100,
    ]);
  });
});

describe('quantileOf', () => {
  // Hyndman and Fan 1996, definition 7 (from memory): h = (n − 1)·p, straight between neighbours.
  it('interpolates between neighbours, by hand', () => {
    const sorted = [10, 20, 30, 50];
    expect([0, 0.1, 0.5, 0.9, 1].map((p) => quantileOf(sorted, p))).toEqual([10, 13, 25, 44, 50]);
    expect(quantileOf([7], 0.9)).toBe(7);
    expect(quantileOf([], 0.5)).toBeNaN();
  });
});

describe('neighbourVoicePower', () => {
  const rule: NeighbourRule = { neighbourSamples: 20, pauseSamples: 20, isConsonant: () => false };
  const track = (...power: number[]) => ({ blockSamples: 10, power: Float64Array.from(power) });

  it('weights blocks by h/(h + distance), h half of what is gathered, by hand', () => {
    // Gathers 20 samples a side; middles of the blocks lie 5 and 15 samples from the edge: 10/15 and 10/25.
    const near = 10 / 15;
    const far = 10 / 25;
    const expected = (near * 4 + far * 1 + near * 16 + far * 64) / (2 * (near + far));
    expect(neighbourVoicePower(track(999, 1, 4, 0, 16, 64, 999), 30, 40, rule)).toBeCloseTo(expected, 12);
  });

  it('takes whole blocks beyond the edge only, and the distance from the edge itself', () => {
    // The edge at 32 lies inside block 3, the end at 38 too: their other halves are unknown and not used.
    const left = 10 / (10 + 7);
    const expected =
      (left * 4 + (10 / (10 + 17)) * 2 + left * 8 + (10 / (10 + 17)) * 6) / (2 * (left + 10 / 27));
    expect(neighbourVoicePower(track(0, 2, 4, 500, 8, 6), 32, 38, rule)).toBeCloseTo(expected, 12);
  });

  it('ends a side at more than the pause, and counts a shorter gap', () => {
    // To the right 20 unvoiced samples are no pause yet, 30 are one.
    expect(neighbourVoicePower(track(5, 5, 0, 0, 0, 9), 20, 30, rule)).toBeGreaterThan(5);
    expect(neighbourVoicePower(track(5, 5, 0, 0, 0, 0, 9), 20, 30, rule)).toBe(5);
  });

  it('does not count consonants as pause', () => {
    const consonants = { ...rule, isConsonant: (block: number) => block >= 3 && block <= 5 };
    expect(neighbourVoicePower(track(5, 5, 0, 0, 0, 0, 9), 20, 30, consonants)).toBeGreaterThan(5);
  });

  it('disregards pauses where both sides begin with one, and has 0 where nothing is voiced', () => {
    expect(neighbourVoicePower(track(0, 0, 0, 0, 0, 0, 0, 7), 20, 30, rule)).toBe(7);
    expect(neighbourVoicePower(track(0, 0, 0, 0), 20, 30, rule)).toBe(0);
    expect(neighbourVoicePower(track(), 0, 3, rule)).toBe(0);
  });
});

describe('noiseSpan', () => {
  it('goes from onset to offset, or from start to end where one is unknown', () => {
    const edges = { startSample: 10, endSample: 50 };
    expect(noiseSpan(region({ ...edges, onsetSample: 20, offsetSample: 40 }))).toEqual({
      start: 20,
      end: 40,
    });
    expect(noiseSpan(region({ ...edges, onsetSample: 20 }))).toEqual({ start: 20, end: 50 });
    expect(noiseSpan(region(edges))).toEqual({ start: 10, end: 50 });
    // Cut in two by hand, a part may end before the onset that it kept.
    expect(noiseSpan(region({ startSample: 10, endSample: 15, onsetSample: 20 }))).toEqual({
      start: 10,
      end: 15,
    });
  });
});

describe('sibilantSounds', () => {
  it('divides where nothing is known between the lower edges of the published spectra', () => {
    // Of spectra made to Jongman, Wayland and Wong's moments 20 % of the power lies below 4630 Hz (s) and 2810 Hz (sh)
    // (from notes on it; computed from its figures from beta distributions over 0 to 11,025 Hz).
    expect(sibilantSounds([4630])).toEqual(['s-like']);
    expect(sibilantSounds([2810])).toEqual(['sh-like']);
    expect(sibilantSounds([])).toEqual([]);
    expect(sibilantSounds([null, 4630, null])).toEqual([null, 's-like', null]);
  });

  it('moves the border between two plain groups of a bright and of a dark voice', () => {
    const groups = [...Array(8).fill(1.6), ...Array(4).fill(1)];
    const expected = [...Array(8).fill('s-like'), ...Array(4).fill('sh-like')];
    // Both groups of the bright one lie above the usual border of 3.7 kHz, both of the dark one below.
    expect(sibilantSounds(groups.map((x) => x * 4000))).toEqual(expected);
    expect(sibilantSounds(groups.map((x) => x * 2200))).toEqual(expected);
  });

  it('is not led astray by one stray edge', () => {
    expect(sibilantSounds([...Array(9).fill(5000), 1500])).toEqual([...Array(9).fill('s-like'), 'sh-like']);
  });
});

describe('sibilanceSpread', () => {
  /** A list of regions with these measured figures. */
  function measured(
    rows: readonly { sibilanceDb: number | null; gainDb: number; kind?: RegionKind; bypassed?: boolean }[],
  ) {
    const empty = createRegionList({ sampleRateHz: 48_000, lengthSamples: 4800 });
    const list = insertRegions(
      empty,
      rows.map(({ gainDb, kind = 'sibilant', bypassed = false }, i) => ({
        kind,
        gainDb,
        bypassed,
        startSample: 100 * i,
        endSample: 100 * i + 50,
      })),
    );
    const byId = new Map(rows.map(({ sibilanceDb }, i) => [i + 1, { sibilanceDb } as RegionLevel]));
    const levels: LevelTable = { sampleRateHz: 48_000, byId, voiceDbfs: -20 };
    return { levels, list };
  }

  it('is over sibilance plus gain, without the gain where bypassed, by hand', () => {
    const { levels, list } = measured([
      { sibilanceDb: 2, gainDb: -6 },
      { sibilanceDb: -10, gainDb: 0 },
      { sibilanceDb: -2, gainDb: -6, bypassed: true },
      { sibilanceDb: 99, gainDb: 0, kind: 'burst' },
      { sibilanceDb: null, gainDb: -3 },
    ]);
    // −10, −4, −2: at 0.2, 1 and 1.8 of the way from the first to the third.
    const spread = sibilanceSpread(levels, list)!;
    expect(spread.count).toBe(3);
    expect(spread.p10Db).toBeCloseTo(-8.8, 12);
    expect(spread.p50Db).toBe(-4);
    expect(spread.p90Db).toBeCloseTo(-2.4, 12);
    expect(spread.spreadDb).toBeCloseTo(6.4, 12);
    expect(sibilanceSpread(levels, list, 'burst')).toMatchObject({
      count: 1,
      p10Db: 99,
      p90Db: 99,
      spreadDb: 0,
    });
    expect(sibilanceSpread(levels, list, ['sibilant', 'burst'])?.count).toBe(4);
  });

  it('does not count regions that were not measured, and is null where none was', () => {
    const { levels, list } = measured([{ sibilanceDb: -5, gainDb: 0 }]);
    const grown = insertRegions(list, [{ kind: 'sibilant', startSample: 1000, endSample: 1100 }]);
    expect(sibilanceSpread(levels, grown)?.count).toBe(1);
    expect(sibilanceSpread(levels, list, 'breath')).toBeNull();
    expect(() => sibilanceSpread(levels, list, 'ess' as never)).toThrow(/^regionsOfKind|kinds/);
  });
});

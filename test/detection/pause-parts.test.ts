import { describe, expect, it } from 'vitest';
import { breathSpans } from '../../src/detection/breath-spans.js';
import { addBreaths, DEFAULT_BREATH_OPTIONS } from '../../src/detection/find-breaths.js';
import { pauseLevels, pauseSounds, standsOut } from '../../src/detection/pause-sounds.js';
import { TAKE_BANDS } from '../../src/detection/take-levels.js';
import { thumpSpans } from '../../src/detection/thump-spans.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { RegionKind } from '../../src/regions/region.js';
import { analysisOf, HOP, levelsOf, pausesOf, phrasesOf, RATE, type TakeFrame } from './take-tables.js';

const dB = (power: number): number => 10 * Math.log10(power);

describe('the floor of a take', () => {
  it('is what 15 % of the frames between phrases stay under, smoothed over five', () => {
    const levels = levelsOf(100, (t) => ({ powers: { 0: t + 1, 3: t < 50 ? 0 : 7 } }));
    const { powers, floor, inPhrase } = pauseLevels(levels, phrasesOf(100));
    // The mean of a straight line is the line, but for three and four frames at an end: 2, 2.5, 3, 4, 5 … of which the 16th.
    expect([0, 1, 2, 3].map((t) => powers[t * TAKE_BANDS])).toEqual([2, 2.5, 3, 4]);
    expect(powers[99 * TAKE_BANDS]).toBe(99);
    expect(floor[0]).toBe(16);
    expect(inPhrase.every((x) => x === 0)).toBe(true);
    // Digital silence is an edit: 52 of the frames in band 3 have some of the 7, 2.8 of it and 1.4 at the least.
    expect(floor[3]).toBe(7);
    expect(floor[5]).toBe(0);
    const sung = pauseLevels(levels, phrasesOf(100, [[50, 100]]));
    expect(sung.floor[0]).toBe(8);
    expect([49, 50, 99].map((t) => sung.inPhrase[t])).toEqual([0, 1, 1]);
  });

  it('is left out below 120 dB under the voice', () => {
    const levels = levelsOf(100, (t) => ({ powers: { 0: t < 50 ? 0.9e-12 : 1.1e-12 } }));
    expect(pauseLevels(levels, phrasesOf(100)).floor[0]).toBeCloseTo(1.1e-12, 20);
    expect(pauseLevels(levels, phrasesOf(100, [], 0.5)).floor[0]).toBeCloseTo(0.9e-12, 20);
  });
});

describe('what stands out of a pause', () => {
  const phrases = phrasesOf(60, [[30, 40]]);
  const levels = levelsOf(60, (t) => ({
    powers: { 4: [2, 5, 6, 20, 35, 45, 46].includes(t) ? 1e-3 : 1e-6 },
  }));
  const pauses = pausesOf(levels, phrases, 1e-5);

  it('is above the floor and not too far under the voice', () => {
    const stands = (power: number, band: number): boolean => standsOut(power, pauses, phrases, 0, band, 10);
    expect([stands(1.01e-4, 4), stands(1e-4, 4)]).toEqual([true, false]);
    // 38 dB under the voice below 90 Hz.
    expect([stands(1.6e-4, 0), stands(1.5e-4, 0)]).toEqual([true, false]);
  });

  it('comes in runs between phrases, joined over short gaps', () => {
    const runs = (joinFrames: number, aboveDb = 10): number[][] =>
      pauseSounds(levels, pauses, phrases, { aboveDb, joinFrames }).map(({ from, to }) => [from, to]);
    expect(runs(0)).toEqual([
      [2, 3],
      [5, 7],
      [20, 21],
      [45, 47],
    ]);
    expect(runs(1)).toHaveLength(4);
    expect(runs(2)).toEqual([
      [2, 7],
      [20, 21],
      [45, 47],
    ]);
    // Not over a phrase, however far.
    expect(runs(30)).toEqual([
      [2, 21],
      [45, 47],
    ]);
    expect(runs(0, Number.NEGATIVE_INFINITY)).toEqual([
      [0, 30],
      [40, 60],
    ]);
    expect(runs(0, 21)).toEqual([]);
  });
});

describe('thumps', () => {
  /** A voice with 1 to 100 below 90 Hz and 2 above that, and after it what is given, from frame 150 on. */
  function thumps(rumble: readonly number[], rule = {}, voice = 1e4) {
    const levels = levelsOf(250, (t) => ({
      powers: { 0: t < 100 ? t + 1 : (rumble[t - 150] ?? 10), 1: t < 100 ? 2 : t === 152 ? 8 : 5 },
    }));
    return thumpSpans(levels, phrasesOf(250, [[0, 100]], voice), {
      sampleRateHz: RATE,
      aboveDb: 10,
      underVoiceDb: 20,
      mostSeconds: 0.1,
      ...rule,
    }).map(({ from, to, rumbleAboveDb, lowAboveDb }) => ({ at: [from, to], rumbleAboveDb, lowAboveDb }));
  }

  it('stand above the lowest octave of the voice, and end 10 dB under their peak on both sides', () => {
    // Nine frames in ten of the voice have less than 91 there.
    expect(thumps([1000, 5000, 10_000, 2000, 1100, 900])).toEqual([
      { at: [150, 155], rumbleAboveDb: dB(10_000 / 91), lowAboveDb: dB(4) },
    ]);
    // They begin before they are 10 dB above it.
    expect(thumps([850, 5000, 8000, 850, 750])[0]!.at).toEqual([150, 154]);
    expect(thumps([911])).toHaveLength(1);
    expect(thumps([909])).toEqual([]);
    expect(thumps([1000, 10, 1000]).map(({ at }) => at)).toEqual([
      [150, 151],
      [152, 153],
    ]);
  });

  it('are short', () => {
    const long = (count: number) => thumps(new Array<number>(count).fill(5000));
    expect(long(10).map(({ at }) => at)).toEqual([[150, 160]]);
    expect(long(11)).toEqual([]);
    expect(thumps(new Array<number>(11).fill(5000), { mostSeconds: 0.11 })).toHaveLength(1);
  });

  it('are not too far under the voice', () => {
    expect(thumps([2000], {}, 1.9e5)).toHaveLength(1);
    expect(thumps([2000], {}, 2.1e5)).toEqual([]);
    expect(thumps([2000], { underVoiceDb: 21 }, 2.1e5)).toHaveLength(1);
  });
});

describe('breaths by rule', () => {
  const air = (power: number, more: TakeFrame['powers'] = {}): TakeFrame => ({
    powers: { 4: power, 5: power, 6: power, ...more },
    flatness: 0.5,
  });
  function breaths(
    frameAt: (t: number) => TakeFrame,
    sung: readonly (readonly [number, number])[] = [],
    floor = 1e-6,
  ) {
    const levels = levelsOf(500, frameAt);
    const take = analysisOf(levels, phrasesOf(500, sung), floor);
    return breathSpans(take, { leastSeconds: 0.3, aboveDb: 10 });
  }
  const from100 =
    (length: number, frame: TakeFrame) =>
    (t: number): TakeFrame =>
      t >= 100 && t < 100 + length ? frame : {};

  it('are air from 700 Hz to 5.6 kHz, of 0.3 to 2.5 s', () => {
    // 0.01 over a floor of 1e-6.
    const [breath, ...more] = breaths(from100(50, air(0.01)));
    expect(more).toEqual([]);
    expect([breath!.from, breath!.to]).toEqual([100, 150]);
    expect(breath!.aboveDb).toBeCloseTo(40, 9);
    expect([29, 30, 250, 251].map((length) => breaths(from100(length, air(0.01))).length)).toEqual([
      0, 1, 1, 0,
    ]);
  });

  it('are no partials, no rumble, no voice, and in every band above the floor', () => {
    const found = (frame: TakeFrame): number => breaths(from100(50, frame)).length;
    expect([-7.9, -8.1].map((level) => found({ ...air(0.01), flatness: 10 ** (level / 10) }))).toEqual([
      1, 0,
    ]);
    // 3 dB over 0.03 are 0.0599; bands 1 and 2 count together.
    expect([0.059, 0.061].map((low) => found(air(0.01, { 1: 0.01, 2: low - 0.01 })))).toEqual([1, 0]);
    // 8 dB under the voice are 0.158.
    expect([0.0525, 0.053].map((power) => found(air(power)))).toEqual([1, 0]);
    // 10 dB over the floor, and 60 under the voice, are 1e-5 and 1e-6.
    for (const band of [4, 5, 6])
      expect([1.1e-5, 0.9e-5].map((power) => found(air(0.01, { [band]: power })))).toEqual([1, 0]);
    expect(found(air(0.01, { 7: 0 }))).toBe(1);
  });

  it('stand over silence by 200 dB at most, and over the floor by what their weakest band does', () => {
    expect(breaths(from100(50, air(0.01)), [], 0)[0]!.aboveDb).toBe(200);
    expect(breaths(from100(50, air(0.01, { 5: 1e-3 })))[0]!.aboveDb).toBeCloseTo(30, 9);
  });

  it('go over short gaps, but not over a phrase', () => {
    const gap =
      (length: number) =>
      (t: number): TakeFrame =>
        (t >= 100 && t < 140) || (t >= 140 + length && t < 180 + length) ? air(0.01) : {};
    const spans = (...of: Parameters<typeof breaths>): number[][] =>
      breaths(...of).map(({ from, to }) => [from, to]);
    // One that is interrupted for more than two frames is told by the half about its middle, which here is the second.
    expect(spans(gap(2))).toEqual([[100, 182]]);
    expect(spans(gap(8))).toEqual([
      [100, 140],
      [148, 188],
    ]);
    expect(spans(gap(2), [[140, 142]])).toEqual([
      [100, 140],
      [142, 182],
    ]);
  });

  it('end where they have fallen to half of the amplitude of their loud part', () => {
    const then = (power: number): number[] => {
      const [breath] = breaths((t) =>
        t >= 100 && t < 140 ? air(0.01) : t >= 140 && t < 170 ? air(power) : {},
      );
      return [breath!.from, breath!.to];
    };
    expect(then(0.0026)).toEqual([100, 170]);
    expect(then(0.0024)).toEqual([100, 140]);
  });

  it('are added where three fifths of one are free, but not beside a breath that is listed', () => {
    const levels = levelsOf(500, from100(50, air(0.01)));
    const take = analysisOf(levels, phrasesOf(500), 1e-6);
    const added = (kind: RegionKind, from: number, to: number): number[][] => {
      const empty = createRegionList({ sampleRateHz: RATE, lengthSamples: 500 * HOP });
      const list = insertRegion(empty, { kind, startSample: from * HOP, endSample: to * HOP });
      return addBreaths(list, take, DEFAULT_BREATH_OPTIONS)
        .regions.slice()
        .filter(({ reason }) => reason.rule === 'findBreaths')
        .map(({ startSample, endSample }) => [startSample / HOP, endSample / HOP]);
    };
    expect(added('sibilant', 90, 110)).toEqual([[110, 150]]);
    expect(added('sibilant', 130, 160)).toEqual([[100, 130]]);
    expect(added('sibilant', 129, 160)).toEqual([]);
    for (const [from, to] of [
      [90, 101],
      [149, 160],
    ] as const)
      expect(added('breath', from, to)).toEqual([]);
    for (const [from, to] of [
      [90, 100],
      [150, 160],
    ] as const)
      expect(added('breath', from, to)).toEqual([[100, 150]]);
  });
});

import { describe, expect, it } from 'vitest';
import { findPhrases, voiceLevels } from '../../src/detection/find-phrases.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionKind } from '../../src/regions/region.js';
import { HOP, levelsOf, RATE, type TakeFrame } from './take-tables.js';

const dB = (level: number): number => 10 ** (level / 10);
/** A voice in partials, at a level in dB. */
const voice = (level: number): TakeFrame => ({ powers: { 3: dB(level) }, flatness: 0.01 });
/** Noise without low sound, as flat as noise is. */
const noise = (level: number): TakeFrame => ({ powers: { 4: dB(level) }, flatness: 0.5 });

type Part = readonly [from: number, to: number, TakeFrame | ((t: number) => TakeFrame)];
type Consonant = readonly [RegionKind, number, number];

function phrases(parts: readonly Part[], consonants: readonly Consonant[] = [], frameCount = 600) {
  const levels = levelsOf(frameCount, (t) => {
    const part = parts.find(([from, to]) => t >= from && t < to)?.[2];
    return typeof part === 'function' ? part(t) : (part ?? {});
  });
  const list = insertRegions(
    createRegionList({ sampleRateHz: RATE, lengthSamples: frameCount * HOP }),
    consonants.map(([kind, startSample, endSample]) => ({ kind, startSample, endSample })),
  );
  return findPhrases(list, levels);
}
const spans = (...of: Parameters<typeof phrases>): number[][] =>
  phrases(...of).spans.map(({ from, to }) => [from, to]);

describe('a phrase', () => {
  it('is a run of voice of 50 ms that lasts for 100', () => {
    expect(spans([[100, 150, voice(0)]])).toEqual([[100, 150]]);
    expect(spans([[0, 10, voice(0)]])).toEqual([[0, 10]]);
    expect(spans([[590, 600, voice(0)]])).toEqual([[590, 600]]);
    expect(spans([[100, 109, voice(0)]])).toEqual([]);
    expect(spans([])).toEqual([]);
  });

  it('goes over stops of less than 120 ms', () => {
    const twice = (gap: number): number[][] =>
      spans([
        [100, 120, voice(0)],
        [120 + gap, 150 + gap, voice(0)],
      ]);
    expect(twice(11)).toEqual([[100, 161]]);
    expect(twice(12)).toEqual([
      [100, 120],
      [132, 162],
    ]);
  });

  it('holds the consonants beside it, in whole frames, but no breath and none that stands alone', () => {
    const short: Part = [100, 106, voice(0)];
    for (const kind of ['sibilant', 'fricative', 'burst'] as const)
      expect(spans([short], [[kind, 116 * HOP + 479, 129 * HOP + 1]])).toEqual([[100, 130]]);
    expect(spans([short], [['breath', 110 * HOP, 130 * HOP]])).toEqual([]);
    expect(spans([short], [['sibilant', 120 * HOP, 130 * HOP]])).toEqual([]);
    expect(spans([], [['sibilant', 110 * HOP, 130 * HOP]])).toEqual([]);
    // A consonant in front of it, and a run of four frames that is none of voice.
    expect(spans([short], [['burst', 90 * HOP, 95 * HOP]])).toEqual([[90, 106]]);
    expect(spans([[100, 104, voice(0)]], [['sibilant', 104 * HOP, 130 * HOP]])).toEqual([]);
  });

  it('goes on in voice down to 24 dB under the voice around, and in anything down to 12', () => {
    // A hundred loud frames beside forty soft ones: their level by power is theirs to 0.3 dB at the most.
    const then = (frame: TakeFrame): number =>
      spans([
        [100, 200, voice(0)],
        [200, 240, frame],
      ])[0]![1]!;
    expect([then(voice(-23)), then(voice(-25))]).toEqual([240, 200]);
    expect([then(noise(-11)), then(noise(-13))]).toEqual([240, 200]);
    // Voiced is what has partials, or power below 700 Hz from 4 dB under that above.
    const flat = (flatness: number): number => then({ powers: { 4: dB(-13) }, flatness });
    expect([flat(dB(-7.1)), flat(dB(-6.9))]).toEqual([240, 200]);
    const low = (level: number): number =>
      then({ powers: { 3: dB(-15 + level), 5: dB(-15) }, flatness: 0.5 });
    expect([low(-3.9), low(-4.1)]).toEqual([240, 200]);
    // Bands 1 to 3 count as low, 4 to 6 as high.
    const at = (band: number): number => then({ powers: { [band]: dB(-14), 5: dB(-17) }, flatness: 0.5 });
    expect([1, 2, 4, 6].map(at)).toEqual([240, 240, 200, 200]);
  });

  it('has its tail: what dies away by more than 30 dB a second, for 0.8 s at most', () => {
    const fall = (dBPerSecond: number, until: number): number[][] =>
      spans([
        [100, 200, voice(0)],
        [200, 400, (t) => noise(-13 - (dBPerSecond / 100) * (Math.min(t, until) - 200))],
      ]);
    // A look is 9 frames, in which 2.55 dB must be lost. Up to frame 225 it loses 3 dB of 0.6 a frame, at 226 four times 0.6.
    expect(fall(60, 230)).toEqual([[100, 226 + 8]]);
    expect(fall(60, 400)).toEqual([[100, 280 + 8]]);
    expect(fall(25, 400)).toEqual([[100, 200]]);
  });
});

describe('the level of the voice', () => {
  it('is the power from 180 Hz to 2.8 kHz', () => {
    const levels = levelsOf(1, () => ({ powers: { 0: 1, 1: 2, 2: 4, 3: 8, 4: 16, 5: 32, 6: 64, 7: 128 } }));
    expect(Array.from(voiceLevels(levels))).toEqual([60]);
  });

  it('is none in silence', () => {
    expect(phrases([]).voicePowers).toEqual(new Float64Array(600));
    // Where the only sound is further away than six seconds, it is that of a soft verse.
    const { voicePowers } = phrases([[0, 100, voice(0)]], [], 2000);
    expect(voicePowers[1500]! / dB(-24)).toBeCloseTo(1, 9);
  });

  it('is that of the loud frames within six seconds, and 24 dB under that of the whole take at least', () => {
    const verse = (level: number): number =>
      phrases(
        [
          [0, 100, voice(0)],
          [2000, 2100, voice(level)],
        ],
        [],
        2700,
      ).voicePowers[2050]!;
    expect(verse(-20) / dB(-20)).toBeCloseTo(1, 6);
    // Of a hundred frames at 0 dB and a hundred at −40, Σp²/Σp is (1 + 1e-8)/(1 + 1e-4).
    expect(verse(-40) / (dB(-24) / (1 + 1e-4))).toBeCloseTo(1, 6);
  });
});

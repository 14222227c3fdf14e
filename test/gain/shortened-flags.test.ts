import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_SHORTENED_OPTIONS, shortenedFlags } from '../../src/gain/shortened-flags.js';
import type { SibilantSound } from '../../src/levels/region-level.js';
import { markRange } from '../../src/regions/mark-range.js';
import { FADE_SHAPES, type Region, type RegionList } from '../../src/regions/region.js';
import { setGain } from '../../src/regions/set-gain.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { measuredTake } from '../lib/measured-take.js';
import { listOf, region } from './lists.js';

const RATE = 48_000;
const ms = (milliseconds: number): number => Math.round((milliseconds / 1000) * RATE);
const onset = ms(100);

/** A noise of so many milliseconds from 100 ms on, and the part of it that a region has, in milliseconds from its onset. */
function noise(lengthMs: number, fromMs: number, toMs: number, fields: Partial<Region> = {}): RegionList {
  const edges = { onsetSample: onset, offsetSample: onset + ms(lengthMs) };
  const range = { startSample: onset + ms(fromMs), endSample: onset + ms(toMs) };
  return listOf(ms(1000), region({ ...edges, ...range, gainDb: -120, ...fields }));
}

const flags = (list: RegionList, sound: SibilantSound = 's-like', options = {}) =>
  shortenedFlags(list, measuredTake([{ sibilanceDb: -5, sound }]).levels, options);

describe('shortenedFlags', () => {
  // 50 ms of [s] and 30 ms of [ʃ] are the least that about 70 % of listeners still identify (from its abstract and notes on it).
  it('flags an s of which a mute leaves less than 50 ms, at either end', () => {
    expect(flags(noise(110, 50, 110))).toEqual([]);
    expect(flags(noise(110, 49, 110))).toMatchObject([{ id: 1, keptSeconds: 0.049, enoughSeconds: 0.05 }]);
    expect(flags(noise(110, 0, 61))).toMatchObject([{ keptSeconds: 0.049 }]);
    expect(flags(noise(110, 0, 60))).toEqual([]);
  });

  it('flags an sh of which it leaves less than 30 ms', () => {
    expect(flags(noise(110, 30, 110), 'sh-like')).toEqual([]);
    expect(flags(noise(110, 29, 110), 'sh-like')).toMatchObject([
      { keptSeconds: 0.029, enoughSeconds: 0.03 },
    ]);
  });

  it('flags a noise that is as short as that itself only where a part of it goes', () => {
    expect(flags(noise(40, 0, 40, { gainDb: -6 }))).toEqual([]);
    expect(flags(noise(40, 25, 40))).toHaveLength(1);
  });

  it('never flags one and the same cut over the noise, however deep, with fades of any shape at its edges', () => {
    const fade = fc.integer({ min: 0, max: ms(4) });
    const gain = fc.double({ min: -120, max: 0, noNaN: true });
    fc.assert(
      fc.property(
        gain,
        fade,
        fade,
        fc.constantFrom(...FADE_SHAPES),
        fc.integer({ min: 20, max: 300 }),
        (gainDb, a, b, fadeShape, lengthMs) => {
          // The fades of up to 4 ms lie wholly inside the noise: 8 ms of flank, under the 10 ms that make a part.
          const fields = { gainDb, fadeInSamples: a, fadeOutSamples: b, fadeShape };
          expect(flags(noise(lengthMs, 0, lengthMs, fields))).toEqual([]);
        },
      ),
    );
  });

  it('flags the early fade that leaves too little near its level, and not the one that leaves enough', () => {
    // The gain rises from the mute as x, the share of the way. 10 ms of n pass 1 − 10/n; 3 dB under that is (1 − 10/n)·10^(−3/20).
    for (const lengthMs of [100, 120, 140, 160, 200]) {
      const list = noise(lengthMs, 0, lengthMs, { fadeOutSamples: ms(lengthMs) });
      const keptMs = lengthMs * (1 - (1 - 10 / lengthMs) * 10 ** (-3 / 20));
      const [flag] = flags(list);
      if (keptMs > 50) expect(flag).toBeUndefined();
      // Two samples: both counts are of whole samples.
      else expect(Math.abs(flag!.keptSeconds * RATE - ms(keptMs))).toBeLessThanOrEqual(2);
    }
    expect(100 * (1 - 0.9 * 10 ** (-3 / 20))).toBeLessThan(50);
    expect(200 * (1 - 0.95 * 10 ** (-3 / 20))).toBeGreaterThan(50);
  });

  it('counts as gone what lies 15 dB down or more', () => {
    expect(flags(noise(100, 30, 100, { gainDb: -14.9 }))).toEqual([]);
    expect(flags(noise(100, 30, 100, { gainDb: -15.1 }))).toHaveLength(1);
  });

  it('takes a split noise, and one with a range marked in it, as one sound', () => {
    const whole = noise(120, 0, 120, { gainDb: 0 });
    const split = splitRegion(whole, 1, onset + ms(40));
    expect(flags(split)).toEqual([]);
    expect(flags(setGain(split, 2, -120))).toMatchObject([{ id: 2, keptSeconds: 0.04 }]);
    expect(flags(setGain(split, [1, 2], -120))).toEqual([]);
    const marked = markRange(whole, onset + ms(20), onset + ms(100), { gainDb: -120 });
    expect(flags(marked)).toMatchObject([{ id: 2, keptSeconds: 0.04 }]);
  });

  it('takes two noises that touch as two', () => {
    const first = { onsetSample: 0, offsetSample: ms(60), startSample: 0, endSample: ms(60) };
    const second = { onsetSample: ms(60), offsetSample: ms(120), startSample: ms(60), endSample: ms(120) };
    expect(
      flags(listOf(ms(200), region({ ...first, gainDb: 0 }), region({ ...second, gainDb: -120 }))),
    ).toEqual([]);
  });

  it('flags no mute of a whole sound, nothing bypassed or boosted, and no other kind', () => {
    expect(flags(noise(100, -10, 110))).toEqual([]);
    expect(flags(noise(100, 20, 100, { bypassed: true }))).toEqual([]);
    expect(flags(noise(100, 20, 100, { gainDb: 24 }))).toEqual([]);
    expect(flags(noise(100, 20, 100, { kind: 'breath' }))).toEqual([]);
    expect(flags(listOf(100))).toEqual([]);
  });

  it('counts a region with a band as untouched', () => {
    expect(flags(noise(100, 20, 100, { band: { lowHz: 5000, highHz: 10_000 } }))).toEqual([]);
  });

  it('says what may be heard, and never that it is', () => {
    expect(flags(noise(100, 40, 100))[0]?.message).toBe(
      '40 ms of it stay near their level: may be heard as a stop, such as t',
    );
  });

  it('moves with its limits, and refuses wrong ones', () => {
    const list = noise(110, 40, 110);
    expect(flags(list, 's-like', { sKeptSeconds: 0.04 })).toEqual([]);
    expect(flags(list, 'sh-like', { shKeptSeconds: 0.041 })).toHaveLength(1);
    expect(() => flags(list, 's-like', { sKeptSeconds: -1 })).toThrow(/shortenedFlags: sKeptSeconds/);
    expect(() => flags(list, 's-like', { shKeptSeconds: 2 })).toThrow(RangeError);
    expect(() => shortenedFlags({ ...list, sampleRateHz: 8000 }, measuredTake([]).levels)).toThrow(
      /levels.sampleRateHz/,
    );
    expect(Object.isFrozen(DEFAULT_SHORTENED_OPTIONS)).toBe(true);
  });
});

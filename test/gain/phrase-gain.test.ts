import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gainAt } from '../../src/gain/gain-at.js';
import { DEFAULT_PHRASE_GAIN_OPTIONS, phraseGain } from '../../src/gain/phrase-gain.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import type { RegionList } from '../../src/regions/region.js';
import { amplitudeFromDecibels } from '../../src/signal/decibels.js';
import { anyList, listOf, region } from './lists.js';

const shape = ({ regions }: RegionList) =>
  regions.map((r) => [r.id, r.kind, r.startSample, r.endSample, r.gainDb]);
const s = (startSample: number, endSample: number, fields = {}) =>
  region({ startSample, endSample, gainDb: -6, ...fields });

describe('phraseGain', () => {
  it('adds to the regions in the range and fills what lies between', () => {
    const list = listOf(10_000, s(2000, 3000), s(5000, 6000, { kind: 'burst', gainDb: 0 }), s(9000, 9500));
    const out = phraseGain(list, { startSample: 1000, endSample: 7000 }, { gainDb: -3 });
    expect(shape(out)).toEqual([
      [4, 'custom', 1000, 2000, -3],
      [1, 'sibilant', 2000, 3000, -9],
      [5, 'custom', 3000, 5000, -3],
      [2, 'burst', 5000, 6000, -3],
      [6, 'custom', 6000, 7000, -3],
      [3, 'sibilant', 9000, 9500, -6],
    ]);
    expect(out.nextId).toBe(7);
    expect(out.regions[5]).toBe(list.regions[2]);
    expect(out.regions[1]?.reason).toEqual({
      rule: 'phraseGain',
      numbers: { addedDb: -3, beforeDb: -6, gainDb: -9 },
    });
  });

  it('adds again in the same regions, and takes it back by the opposite', () => {
    const list = listOf(10_000, s(2000, 3000));
    const range = { startSample: 1000, endSample: 7000 };
    const once = phraseGain(list, range, { gainDb: -3 });
    const twice = phraseGain(once, range, { gainDb: -3 });
    expect(twice.nextId).toBe(once.nextId);
    expect(shape(twice).map((row) => row[4])).toEqual([-6, -12, -6]);
    expect(shape(phraseGain(twice, range, { gainDb: 6 })).map((row) => row[4])).toEqual([0, -6, 0]);
  });

  it('fades at the two ends of the range, as long as told, and nowhere to 0 dB between', () => {
    const list = listOf(48_000, s(20_000, 24_000, { fadeInSamples: 100, fadeOutSamples: 100 }));
    const out = phraseGain(
      list,
      { startSample: 10_000, endSample: 40_000 },
      { gainDb: -20, fadeSeconds: 0.01 },
    );
    expect(out.regions.map((r) => [r.fadeInSamples, r.fadeOutSamples])).toEqual([
      [480, 0],
      [100, 100],
      [0, 480],
    ]);
    // From 1 to 0.1 by a raised cosine: half way at half its length.
    expect(gainAt(out, 10_000)).toBe(1);
    expect(gainAt(out, 10_240)).toBeCloseTo(0.55, 12);
    expect(gainAt(out, 10_480)).toBe(amplitudeFromDecibels(-20));
    let greatest = 0;
    for (let i = 10_480; i < 39_520; i++) greatest = Math.max(greatest, gainAt(out, i));
    expect(greatest).toBe(amplitudeFromDecibels(-20));
  });

  it('splits regions that reach over the ends, with a fade from gain to gain there', () => {
    const both = phraseGain(
      listOf(10_000, s(1000, 9000)),
      { startSample: 2000, endSample: 8000 },
      { gainDb: -3, fadeSeconds: 0.001 },
    );
    expect(shape(both)).toEqual([
      [1, 'sibilant', 1000, 2000, -6],
      [2, 'sibilant', 2000, 8000, -9],
      [3, 'sibilant', 8000, 9000, -6],
    ]);
    expect(gainAt(both, 1999)).toBe(amplitudeFromDecibels(-6));
    expect(gainAt(both, 2000)).toBeCloseTo(amplitudeFromDecibels(-6), 12);
    expect(gainAt(both, 2048)).toBe(amplitudeFromDecibels(-9));
    expect(gainAt(both, 8000)).toBe(amplitudeFromDecibels(-6));
  });

  it('leaves the fades of a split region with the pieces that have its ends', () => {
    const fades = { fadeInSamples: 300, fadeOutSamples: 200 };
    const range = { startSample: 2000, endSample: 8000 };
    const out = phraseGain(listOf(10_000, s(1000, 9000, fades)), range, { gainDb: -3, fadeSeconds: 0.001 });
    expect(out.regions.map((r) => [r.fadeInSamples, r.fadeOutSamples])).toEqual([
      [300, 0],
      [48, 48],
      [0, 200],
    ]);
  });

  it('keeps the measured edges of a split noise with the pieces that hold them', () => {
    const noise = s(1000, 3000, { onsetSample: 1100, offsetSample: 2900 });
    const out = phraseGain(listOf(10_000, noise), { startSample: 2000, endSample: 8000 }, { gainDb: -3 });
    expect(out.regions.map((r) => [r.onsetSample, r.offsetSample])).toEqual([
      [1100, null],
      [null, 2900],
      [null, null],
    ]);
  });

  it('leaves locked and bypassed regions whole, with fades towards them beside', () => {
    for (const state of [{ locked: true }, { bypassed: true }]) {
      const list = listOf(20_000, s(8000, 9000, { ...state, gainDb: 0 }), s(15_000, 20_000, state));
      const out = phraseGain(
        list,
        { startSample: 2000, endSample: 16_000 },
        { gainDb: -20, fadeSeconds: 0.01 },
      );
      expect(shape(out).map((row) => row.slice(1))).toEqual([
        ['custom', 2000, 8000, -20],
        ['sibilant', 8000, 9000, 0],
        ['custom', 9000, 15_000, -20],
        ['sibilant', 15_000, 20_000, -6],
      ]);
      expect(out.regions[1]).toEqual(list.regions[0]);
      expect(out.regions[3]).toEqual(list.regions[1]);
      expect(gainAt(out, 7520)).toBe(amplitudeFromDecibels(-20));
      expect(gainAt(out, 7760)).toBeCloseTo(0.55, 12);
      expect(gainAt(out, 9000)).toBe(1);
      expect(gainAt(out, 9480)).toBe(amplitudeFromDecibels(-20));
      // The last gap ends at the gain of what follows: that of the locked region, or 0 dB where it is bypassed.
      expect(gainAt(out, 14_999)).toBeCloseTo('locked' in state ? amplitudeFromDecibels(-6) : 1, 2);
    }
  });

  it('has nothing to do where a locked region covers the range, or the gain is 0', () => {
    const list = listOf(10_000, s(1000, 9000, { locked: true }));
    expect(phraseGain(list, { startSample: 2000, endSample: 8000 }, { gainDb: -3 })).toBe(list);
    expect(phraseGain(list, { startSample: 0, endSample: 8000 }, { gainDb: 0 })).toBe(list);
    expect(phraseGain(list, { startSample: 0, endSample: 8000 }, { gainDb: -0 })).toBe(list);
  });

  it('moves the fades of a region that it brings to 0 dB to what lies beside it', () => {
    const raised = s(2000, 3000, { gainDb: 3, fadeInSamples: 200, fadeOutSamples: 100 });
    const out = phraseGain(listOf(10_000, raised), { startSample: 1000, endSample: 7000 }, { gainDb: -3 });
    expect(out.regions[1]?.gainDb).toBe(0);
    expect([out.regions[0]?.fadeOutSamples, out.regions[2]?.fadeInSamples]).toEqual([200, 100]);
    expect(gainAt(out, 3000)).toBe(1);
  });

  it('fades to 0 dB beside a region with a band, where the whole spectrum has no gain', () => {
    const band = { lowHz: 5000, highHz: 10_000 };
    const out = phraseGain(
      listOf(10_000, s(4000, 5000, { band })),
      { startSample: 1000, endSample: 9000 },
      { gainDb: -3, fadeSeconds: 0.01 },
    );
    expect(shape(out).map((row) => row[4])).toEqual([-3, -9, -3]);
    expect(out.regions[1]?.band).toEqual(band);
    expect([out.regions[0]?.fadeOutSamples, out.regions[2]?.fadeInSamples]).toEqual([480, 480]);
  });

  it('ends at the mute and at the greatest boost', () => {
    const list = listOf(10_000, s(2000, 3000, { gainDb: -119 }), s(4000, 5000, { gainDb: 20 }));
    const range = { startSample: 2000, endSample: 5000 };
    expect(shape(phraseGain(list, range, { gainDb: -6 })).map((row) => row[4])).toEqual([-120, -6, 14]);
    expect(shape(phraseGain(list, range, { gainDb: 6 })).map((row) => row[4])).toEqual([-113, 6, 24]);
  });

  it('adds its gain everywhere in the range, away from fades, and nothing outside', () => {
    const ranges = fc.record({
      from: fc.double({ min: 0, max: 1, noNaN: true }),
      to: fc.double({ min: 0, max: 1, noNaN: true }),
      gainDb: fc.double({ min: -30, max: 20, noNaN: true }),
      fadeSeconds: fc.double({ min: 0, max: 0.0005, noNaN: true }),
      locked: fc.func(fc.boolean()),
      band: fc.func(fc.boolean()),
    });
    fc.assert(
      fc.property(anyList(), ranges, (drawn, { from, to, gainDb, fadeSeconds, locked, band }) => {
        const lengthSamples = drawn.lengthSamples + 10;
        const list: RegionList = {
          ...drawn,
          lengthSamples,
          regions: drawn.regions.map((r) => ({
            ...r,
            locked: locked(r.id),
            ...(band(r.id) ? { band: { lowHz: 5000, highHz: 10_000 } } : {}),
          })),
        };
        const a = Math.floor(Math.min(from, to) * (lengthSamples - 1));
        const b = Math.max(a + 1, Math.floor(Math.max(from, to) * lengthSamples));
        const out = phraseGain(list, { startSample: a, endSample: b }, { gainDb, fadeSeconds });
        checkRegionList(out);
        for (const r of list.regions) if (r.locked) expect(out.regions).toContainEqual(r);
        for (let i = 0; i < lengthSamples; i++) {
          if (inFade(list, i) || inFade(out, i)) continue;
          const { stays, heldDb } = at(list, i);
          const added = i >= a && i < b && !stays && gainDb !== 0;
          const expectedDb = added ? Math.min(24, Math.max(-120, heldDb + gainDb)) : heldDb;
          // 1e-12 of the factor: the rounding of one sum in dB and one power of ten.
          expect(Math.abs(gainAt(out, i) / amplitudeFromDecibels(expectedDb) - 1)).toBeLessThan(1e-12);
        }
        if (gainDb !== 0 && out !== list) {
          const again = phraseGain(out, { startSample: a, endSample: b }, { gainDb, fadeSeconds });
          expect(again.nextId).toBe(out.nextId);
          expect(again.regions.map(({ startSample }) => startSample)).toEqual(
            out.regions.map(({ startSample }) => startSample),
          );
        }
      }),
      { numRuns: 300 },
    );
  });

  it('refuses ranges that are empty or leave the clip, and gains and fades out of range; the list stays', () => {
    const list = listOf(10_000, s(2000, 3000));
    const before = JSON.stringify(list);
    const range = { startSample: 1000, endSample: 7000 };
    expect(() => phraseGain(list, { startSample: 7, endSample: 7 }, { gainDb: -3 })).toThrow(
      /phraseGain: range.endSample/,
    );
    expect(() => phraseGain(list, { startSample: 0, endSample: 10_001 }, { gainDb: -3 })).toThrow(RangeError);
    expect(() => phraseGain(list, { startSample: -1, endSample: 5 }, { gainDb: -3 })).toThrow(
      /range.startSample/,
    );
    expect(() => phraseGain(list, range, { gainDb: 145 })).toThrow(/gainDb/);
    expect(() => phraseGain(list, range, { gainDb: Number.NaN })).toThrow(RangeError);
    expect(() => phraseGain(list, range, {} as never)).toThrow(/gainDb must be a number/);
    expect(() => phraseGain(list, range, { gainDb: -3, fadeSeconds: -1 })).toThrow(/fadeSeconds/);
    expect(JSON.stringify(list)).toBe(before);
    expect(Object.isFrozen(DEFAULT_PHRASE_GAIN_OPTIONS)).toBe(true);
  });
});

/** What a list has at a sample, fades aside: whether it stays as it is under a phrase gain, and its gain on the whole spectrum. */
function at({ regions }: RegionList, sample: number): { stays: boolean; heldDb: number } {
  const r = regions.find(({ startSample, endSample }) => startSample <= sample && sample < endSample);
  if (r === undefined) return { stays: false, heldDb: 0 };
  const stays = r.locked || r.bypassed || r.band !== undefined;
  return { stays, heldDb: r.bypassed || r.band !== undefined ? 0 : r.gainDb };
}

function inFade({ regions }: RegionList, sample: number): boolean {
  return regions.some(
    (r) =>
      (r.startSample <= sample && sample < r.startSample + r.fadeInSamples) ||
      (r.endSample - r.fadeOutSamples <= sample && sample < r.endSample),
  );
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { removedSignal } from '../../src/gain/removed-signal.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { rmsDbfs } from '../../src/signal/meters.js';
import { anyList, bits, listOf, noise, region } from './lists.js';

const listAndAudio = (lists = anyList()) =>
  fc.tuple(lists, fc.nat(1e6)).map(([list, seed]) => ({ list, samples: noise(list.lengthSamples, seed) }));

/** Distance from |x| to the next larger float. */
const lastPlace = (x: number): number => 2 ** (Math.floor(Math.log2(Math.max(Math.abs(x), 2 ** -126))) - 23);

describe('removedSignal', () => {
  it('is input minus output, rounded once, and zero wherever nothing is changed', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const removed = removedSignal(samples, list);
        const output = renderGain(samples, list);
        removed.forEach((r, i) => {
          expect(r).toBe(Math.fround(samples[i]! - output[i]!));
        });
      }),
    );
  });

  // Sterbenz 1974 (from memory): the difference of two floats within a factor of 2 is exact, so the sum has nothing to round.
  it('adds up with the output to the input, to the bit, for gains within 6.02 dB', () => {
    const mild = anyList(6.02).map((list) => ({
      ...list,
      regions: list.regions.map((r) => ({ ...r, gainDb: Math.max(r.gainDb, -6.02) })),
    }));
    fc.assert(
      fc.property(listAndAudio(mild), ({ list, samples }) => {
        const removed = removedSignal(samples, list);
        const sum = renderGain(samples, list).map((y, i) => y + removed[i]!);
        expect(bits(sum)).toEqual(bits(samples));
      }),
    );
  });

  // computed from its figures: the difference is off by at most half a unit of its own last place, and the sum rounds once more.
  it('adds up to within one unit in the last place for any gain', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const removed = removedSignal(samples, list);
        renderGain(samples, list).forEach((y, i) => {
          const x = samples[i]!;
          const most = lastPlace(Math.max(Math.abs(x), Math.abs(y)));
          expect(Math.abs(Math.fround(y + removed[i]!) - x)).toBeLessThanOrEqual(most);
        });
      }),
    );
  });

  // computed from its figures: 20 log10(1 - 10^(-6/20)) = -6.0412 dB; at -20 dB 20 log10(0.9) = -0.9151 dB.
  it('keeps its own level: 6.04 dB below the input for a cut of 6 dB, 0.92 dB for one of 20', () => {
    for (const [gainDb, belowDb] of [
      [-6, 6.0412],
      [-20, 0.9151],
    ] as const) {
      const samples = noise(10000);
      const removed = removedSignal(
        samples,
        listOf(10000, region({ startSample: 0, endSample: 10000, gainDb })),
      );
      // The figures have four decimals.
      expect(rmsDbfs(samples) - rmsDbfs(removed)).toBeCloseTo(belowDb, 4);
    }
  });

  it('turns the sign of what a boost adds', () => {
    const list = listOf(4, region({ startSample: 1, endSample: 3, gainDb: 20 }));
    // computed from its figures: 1 − 10 = −9, exact in floats but for the last bit of the gain.
    const removed = removedSignal(new Float32Array(4).fill(1), list);
    expect(removed[1]).toBeCloseTo(-9, 5);
    expect(removed[0]).toBe(0);
  });

  it('is zero, never −0, outside regions and in bypassed ones, even where the input is NaN', () => {
    const samples = new Float32Array(40).fill(Number.NaN);
    samples.fill(0.5, 10, 20);
    const list = listOf(
      40,
      region({ startSample: 10, endSample: 20 }),
      region({ startSample: 20, endSample: 30, bypassed: true }),
      region({ startSample: 30, endSample: 40, gainDb: 0 }),
    );
    const removed = removedSignal(samples, list);
    expect(bits(removed.slice(0, 10))).toEqual(new Array(10).fill(0));
    expect(bits(removed.slice(20))).toEqual(new Array(20).fill(0));
    expect(removed[15]).toBeGreaterThan(0);
    samples[12] = Number.POSITIVE_INFINITY;
    expect(() => removedSignal(samples, list)).toThrow('samples[12] must be finite');
  });

  it('treats channels alike, takes empty clips and lists, and leaves the input alone', () => {
    const list = listOf(50, region({ startSample: 5, endSample: 45, fadeInSamples: 10 }));
    const clip = [noise(50, 1), noise(50, 2)];
    const was = clip.map(bits);
    const removed = removedSignal(clip, list);
    expect(removed.map(bits)).toEqual(clip.map((channel) => bits(removedSignal(channel, list))));
    expect(clip.map(bits)).toEqual(was);
    expect(removedSignal(new Float32Array(0), listOf(0))).toHaveLength(0);
    expect(bits(removedSignal(clip[0]!, listOf(50)))).toEqual(new Array(50).fill(0));
    expect(() => removedSignal(clip, listOf(49))).toThrow(RangeError);
  });
});

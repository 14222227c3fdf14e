import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { setLocked } from '../../src/regions/set-flags.js';
import { snapRegion } from '../../src/regions/snap-region.js';
import { snapToZeroCrossing } from '../../src/regions/snap-to-zero-crossing.js';
import type { Samples } from '../../src/signal/samples.js';

/** sin(2π(f·i/fs + turns)): it crosses zero at the real times t_k = (k/2 − turns)·fs/f, k an integer. */
function sine(frequencyHz: number, sampleRateHz: number, turns: number, length: number): Samples {
  return Float32Array.from({ length }, (_, i) =>
    Math.sin(2 * Math.PI * ((frequencyHz * i) / sampleRateHz + turns)),
  );
}

function crossings(frequencyHz: number, sampleRateHz: number, turns: number, length: number): number[] {
  const found: number[] = [];
  const half = sampleRateHz / frequencyHz / 2;
  for (let k = Math.ceil(2 * turns); ; k++) {
    const position = Math.ceil((k / 2 - turns) * 2 * half);
    if (position >= length) return found;
    if (position > 0) found.push(position);
  }
}

describe('snapToZeroCrossing', () => {
  test('on a sine it finds the crossing that the closed form (k/2 − φ)·fs/f says, rounded up (derived)', () => {
    // Frequencies that share no period with the rate; the phases keep every crossing off the samples' own times.
    for (const [frequencyHz, rate, turns] of [
      [997, 48000, 0.1234],
      [61.7, 44100, 0.377],
      [5003, 96000, 0.0617],
      [3331, 8000, 0.21],
    ] as const) {
      const length = 4000;
      const samples = sine(frequencyHz, rate, turns, length);
      const all = [0, ...crossings(frequencyHz, rate, turns, length), length];
      const withinSamples = 60;
      for (let at = 0; at <= length; at += 17) {
        const near = all.filter((c) => Math.abs(c - at) <= withinSamples);
        const later = near.filter((c) => c >= at);
        const earlier = near.filter((c) => c <= at);
        const e = earlier[earlier.length - 1];
        const l = later[0];
        const nearest = e === undefined || l === undefined ? (e ?? l ?? at) : at - e <= l - at ? e : l;
        const find = (direction: 'earlier' | 'later' | 'nearest'): number =>
          snapToZeroCrossing(samples, at, { withinSamples, direction });
        expect(find('earlier')).toBe(e ?? at);
        expect(find('later')).toBe(l ?? at);
        expect(find('nearest')).toBe(nearest);
      }
    }
  });

  test('rising and falling crossings count alike: turning the polarity over changes nothing', () => {
    const wave = fc.array(
      fc.oneof(fc.float({ min: -1, max: 1, noNaN: true }), fc.constantFrom(0, 1e-45, -1e-45)),
      {
        minLength: 1,
        maxLength: 60,
      },
    );
    fc.assert(
      fc.property(
        wave,
        fc.nat({ max: 60 }),
        fc.nat({ max: 20 }),
        fc.constantFrom('earlier' as const, 'later' as const, 'nearest' as const),
        (values, place, withinSamples, direction) => {
          const up = Float32Array.from(values);
          const down = Float32Array.from(values, (x) => -x);
          const at = Math.min(place, up.length);
          const options = { withinSamples, direction };
          const found = snapToZeroCrossing(up, at, options);
          expect(snapToZeroCrossing(down, at, options)).toBe(found);
          expect(Math.abs(found - at)).toBeLessThanOrEqual(withinSamples);
          if (direction === 'later') expect(found).toBeGreaterThanOrEqual(at);
          if (direction === 'earlier') expect(found).toBeLessThanOrEqual(at);
          // Where it moved, it moved to a crossing, and none lies nearer.
          const isCrossing = (i: number): boolean =>
            i === 0 || i === up.length || up[i] === 0 || Math.sign(up[i - 1]!) * Math.sign(up[i]!) < 0;
          if (found !== at) expect(isCrossing(found)).toBe(true);
          const reach = found === at ? withinSamples : Math.abs(found - at) - 1;
          if (found !== at || !isCrossing(at))
            for (let i = Math.max(0, at - reach); i <= Math.min(up.length, at + reach); i++)
              if ((direction !== 'later' || i >= at) && (direction !== 'earlier' || i <= at))
                expect(isCrossing(i)).toBe(false);
        },
      ),
      { numRuns: 2000 },
    );
  });

  test('an exact zero counts, of two equally near the earlier wins, and none in reach leaves the edge', () => {
    expect(snapToZeroCrossing(Float32Array.of(1, 1, 0, 1, 1), 3, { withinSamples: 1 })).toBe(2);
    expect(snapToZeroCrossing(Float32Array.of(1, 1, -1, -1, 1, 1), 3, { withinSamples: 1 })).toBe(2);
    expect(snapToZeroCrossing(Float32Array.of(1, 1, 1, 1, 1, -1), 3, { withinSamples: 1 })).toBe(3);
    expect(snapToZeroCrossing(Float32Array.of(1, 1, 1, 1, 1, -1), 3, { withinSamples: 2 })).toBe(5);
  });

  test('the sign change of two denormal samples is seen although their product underflows', () => {
    expect(snapToZeroCrossing(Float32Array.of(1, 1e-45, -1e-45, -1, -1), 4, { withinSamples: 3 })).toBe(5);
    expect(
      snapToZeroCrossing(Float32Array.of(1, 1e-45, -1e-45, -1, -1), 4, {
        withinSamples: 3,
        direction: 'earlier',
      }),
    ).toBe(2);
  });

  test('silence and an empty clip leave the edge where it is', () => {
    expect(snapToZeroCrossing(new Float32Array(50), 20, { withinSamples: 10 })).toBe(20);
    expect(snapToZeroCrossing(new Float32Array(0), 0, { withinSamples: 10 })).toBe(0);
  });

  test('it looks no further than the clip even when told to look very far', () => {
    const samples = new Float32Array(100).fill(0.5);
    expect(snapToZeroCrossing(samples, 40, { withinSamples: Number.MAX_SAFE_INTEGER })).toBe(0);
    expect(
      snapToZeroCrossing(samples, 40, { withinSamples: Number.MAX_SAFE_INTEGER, direction: 'later' }),
    ).toBe(100);
  });

  test('NaN within reach is refused with its index; beyond it does not matter', () => {
    const samples = new Float32Array(100).fill(0.5);
    samples[50] = Number.NaN;
    expect(() => snapToZeroCrossing(samples, 45, { withinSamples: 5 })).toThrow(/samples\[50\]/);
    expect(snapToZeroCrossing(samples, 45, { withinSamples: 4 })).toBe(45);
    expect(() => snapToZeroCrossing(samples, 101, { withinSamples: 4 })).toThrow(RangeError);
    expect(() => snapToZeroCrossing([1, -1] as unknown as Samples, 0, { withinSamples: 4 })).toThrow(
      TypeError,
    );
  });
});

describe('snapRegion', () => {
  const only = (list: RegionList): Region => list.regions[0] as Region;
  const listOf = (
    startSample: number,
    endSample: number,
    lengthSamples: number,
    more: object = {},
  ): RegionList =>
    insertRegion(createRegionList({ sampleRateHz: 48000, lengthSamples }), {
      startSample,
      endSample,
      ...more,
    });

  test('both edges move inward, to the crossings of a 997 Hz sine, by at most 1 ms', () => {
    // Half a period is 24.07 samples, less than the 48 of 1 ms, so a crossing is always in reach.
    const samples = sine(997, 48000, 0.1234, 9600);
    const expected = crossings(997, 48000, 0.1234, 9600);
    for (let start = 1000; start < 1060; start++) {
      const list = listOf(start, start + 3000, 9600, { fadeInSamples: 100, fadeOutSamples: 100 });
      const snapped = only(snapRegion(list, 1, samples));
      expect(snapped.startSample).toBe(expected.find((c) => c >= start));
      expect(snapped.endSample).toBe(expected.filter((c) => c <= start + 3000).pop());
      expect(snapped.startSample - start).toBeLessThanOrEqual(48);
    }
  });

  test('the distance is bounded: a wave with no crossing within 48 samples leaves the edges', () => {
    const samples = new Float32Array(2000).fill(0.5);
    samples.fill(-0.5, 549, 1451);
    expect(only(snapRegion(listOf(500, 1500, 2000), 1, samples))).toMatchObject({
      startSample: 500,
      endSample: 1500,
    });
    expect(only(snapRegion(listOf(501, 1499, 2000), 1, samples))).toMatchObject({
      startSample: 549,
      endSample: 1451,
    });
    expect(only(snapRegion(listOf(501, 1499, 2000), 1, samples, { withinSeconds: 0.0009 }))).toMatchObject({
      startSample: 501,
      endSample: 1499,
    });
  });

  test('a region of a few samples stays a region, in whatever wave', () => {
    const samples = Float32Array.from({ length: 200 }, (_, i) => (i % 2 === 0 ? 0.5 : -0.5));
    const flat = new Float32Array(200).fill(0.5).fill(-0.5, 101);
    for (const wave of [samples, flat])
      for (let n = 1; n < 8; n++) {
        const snapped = only(snapRegion(listOf(99, 99 + n, 200), 1, wave));
        expect(snapped.startSample).toBeLessThan(snapped.endSample);
      }
  });

  test('several channels are not snapped; a clip of another length and a locked region are refused', () => {
    const samples = sine(997, 48000, 0.1234, 2000);
    const list = listOf(500, 1500, 2000);
    expect(snapRegion(list, 1, [samples, samples])).toBe(list);
    expect(only(snapRegion(list, 1, [samples]))).not.toEqual(only(list));
    expect(() => snapRegion(list, 1, samples.subarray(1))).toThrow(/2000 samples/);
    expect(() => snapRegion(setLocked(list, 1, true), 1, samples)).toThrow(/locked/);
    expect(() => snapRegion(list, 2, samples)).toThrow(RangeError);
    expect(() => snapRegion(list, 1, samples, { withinSeconds: 0.0011 })).toThrow(RangeError);
  });
});

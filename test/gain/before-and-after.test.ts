import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beforeAndAfter } from '../../src/gain/before-and-after.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { rms } from '../../src/signal/meters.js';
import { anyList, bits, listOf, noise, region } from './lists.js';

describe('beforeAndAfter', () => {
  it('differs only inside regions that cut: everything else matches at 0 dB, to the bit', () => {
    const cases = anyList().filter(({ regions }) => regions.length > 0);
    fc.assert(
      fc.property(cases, fc.nat(), fc.nat(1e6), (list, pick, seed) => {
        const { id } = list.regions[pick % list.regions.length]!;
        const samples = noise(list.lengthSamples, seed);
        const { before, after, startSample, endSample } = beforeAndAfter(samples, list, id, {
          preSeconds: 0.001,
          postSeconds: 0.001,
        });
        expect([before.length, after.length]).toEqual([endSample - startSample, endSample - startSample]);
        expect(bits(before)).toEqual(bits(samples.subarray(startSample, endSample)));
        expect(bits(after)).toEqual(bits(renderGain(samples, list).subarray(startSample, endSample)));
        const touched = new Uint8Array(list.lengthSamples);
        for (const r of list.regions)
          if (!r.bypassed && r.gainDb !== 0) touched.fill(1, r.startSample, r.endSample);
        const [was, is] = [bits(before), bits(after)];
        was.forEach((bit, i) => {
          if (!touched[startSample + i]) expect(is[i]).toBe(bit);
        });
      }),
    );
  });

  // computed from its figures: 10^(-6/20) = 0.501187.
  it('has the cut of the region as the only change of level, and no make-up for it', () => {
    const list = listOf(
      9600,
      region({ startSample: 4800, endSample: 7200 }),
      region({ startSample: 9500, endSample: 9600 }),
    );
    const { before, after, regionStartSample, regionEndSample } = beforeAndAfter(noise(9600), list, 1, {
      preSeconds: 0.1,
      postSeconds: 0,
    });
    const level = (samples: Float32Array): number => rms(samples.slice(regionStartSample, regionEndSample));
    // Each sample is rounded to 24 bits: 6e-8 of itself.
    expect(level(after) / level(before)).toBeCloseTo(0.501187, 6);
    expect(rms(after.slice(0, 4800)) / rms(before.slice(0, 4800))).toBe(1);
  });

  it('gives both versions in the shape of the clip, and leaves the clip alone', () => {
    const list = listOf(100, region({ startSample: 40, endSample: 60 }));
    const clip = [noise(100, 1), noise(100, 2)];
    const was = clip.map(bits);
    const pair = beforeAndAfter(clip, list, [1]);
    expect(pair.before.map(bits)).toEqual(was);
    expect(pair.after.map(bits)).toEqual(renderGain(clip, list).map(bits));
    pair.before[0]!.fill(1);
    pair.after[0]!.fill(1);
    expect(clip.map(bits)).toEqual(was);
    expect(Object.isFrozen(pair)).toBe(true);
  });

  it('is the same twice where the region is bypassed', () => {
    const list = listOf(100, region({ startSample: 40, endSample: 60, bypassed: true }));
    const { before, after } = beforeAndAfter(noise(100), list, 1);
    expect(bits(after)).toEqual(bits(before));
  });

  it('refuses NaN where a region cuts and passes it elsewhere', () => {
    const list = listOf(100, region({ startSample: 40, endSample: 60 }));
    const clip = noise(100);
    clip[39] = Number.NaN;
    expect(beforeAndAfter(clip, list, 1).after[39]).toBeNaN();
    clip[40] = Number.NaN;
    expect(() => beforeAndAfter(clip, list, 1)).toThrow('samples[40] must be finite');
  });

  it('refuses what excerpt and renderGain refuse', () => {
    const list = listOf(100, region({ startSample: 40, endSample: 60 }));
    expect(() => beforeAndAfter(noise(100), list, 2)).toThrow('beforeAndAfter: ids');
    expect(() => beforeAndAfter(noise(100), list, 1, { preSeconds: 61 })).toThrow(
      'beforeAndAfter: preSeconds',
    );
    expect(() => beforeAndAfter(noise(99), list, 1)).toThrow(RangeError);
    expect(() => beforeAndAfter([], list, 1)).toThrow(RangeError);
  });
});

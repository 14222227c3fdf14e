import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { excerpt } from '../../src/gain/excerpt.js';
import { anyList, bits, listOf, noise, region } from './lists.js';

const list = listOf(
  48000,
  region({ startSample: 10000, endSample: 12000 }),
  region({ startSample: 20000, endSample: 21000, gainDb: 0 }),
);
const clip = noise(48000);

describe('excerpt', () => {
  it('is the region with its pre- and post-roll, and says where both lie', () => {
    const piece = excerpt(clip, list, 1, { preSeconds: 0.1, postSeconds: 0.05 });
    expect(piece).toMatchObject({
      startSample: 10000 - 4800,
      endSample: 12000 + 2400,
      regionStartSample: 4800,
      regionEndSample: 6800,
    });
    expect(bits(piece.audio)).toEqual(bits(clip.subarray(5200, 14400)));
    expect(Object.isFrozen(piece)).toBe(true);
  });

  it('takes half a second on each side unless told', () => {
    const long = listOf(144000, region({ startSample: 70000, endSample: 70100 }));
    const piece = excerpt(new Float32Array(144000), long, 1);
    expect([piece.startSample, piece.endSample]).toEqual([46000, 94100]);
  });

  it('is one piece from the first to the last of several regions, whatever the order of the ids', () => {
    const piece = excerpt(clip, list, [2, 1, 2], { preSeconds: 0, postSeconds: 0 });
    expect([piece.startSample, piece.endSample]).toEqual([10000, 21000]);
    expect([piece.regionStartSample, piece.regionEndSample]).toEqual([0, 11000]);
  });

  it('keeps to the clip, and to the bits of the clip, for any regions and rolls', () => {
    const roll = fc.double({ min: 0, max: 0.003, noNaN: true });
    const cases = anyList().filter(({ regions }) => regions.length > 0);
    fc.assert(
      fc.property(cases, fc.nat(), roll, roll, fc.nat(1e6), (any, pick, pre, post, seed) => {
        const chosen = any.regions[pick % any.regions.length]!;
        const samples = noise(any.lengthSamples, seed);
        const piece = excerpt(samples, any, chosen.id, { preSeconds: pre, postSeconds: post });
        // A roll is the nearest whole number of samples, or what the clip has.
        expect(piece.startSample).toBe(Math.max(0, chosen.startSample - Math.round(pre * 48000)));
        expect(piece.endSample).toBe(
          Math.min(any.lengthSamples, chosen.endSample + Math.round(post * 48000)),
        );
        expect(piece.startSample + piece.regionStartSample).toBe(chosen.startSample);
        expect(piece.startSample + piece.regionEndSample).toBe(chosen.endSample);
        expect(bits(piece.audio)).toEqual(bits(samples.subarray(piece.startSample, piece.endSample)));
      }),
    );
  });

  it('gives as many channels as it gets, as copies', () => {
    const right = noise(48000, 2);
    const before = bits(right);
    const piece = excerpt([clip, right], list, 1);
    expect(piece.audio.map((channel) => channel[piece.regionStartSample])).toEqual([
      clip[10000],
      right[10000],
    ]);
    piece.audio[1]!.fill(9);
    expect(bits(right)).toEqual(before);
    expect(excerpt([clip], list, 1).audio).toHaveLength(1);
    const mono = excerpt(right, list, 1).audio;
    mono.fill(9);
    expect(bits(right)).toEqual(before);
  });

  it('lets NaN pass, since it only copies', () => {
    expect(excerpt(new Float32Array(48000).fill(Number.NaN), list, 1).audio[0]).toBeNaN();
  });

  it('refuses unknown ids, no ids, rolls out of range and another length', () => {
    expect(() => excerpt(clip, list, 3)).toThrow(RangeError);
    expect(() => excerpt(clip, list, [1, 3])).toThrow('excerpt: ids must be ids of regions of the list');
    expect(() => excerpt(clip, list, [])).toThrow(RangeError);
    expect(() => excerpt(clip, list, undefined as never)).toThrow(TypeError);
    expect(() => excerpt(clip, list, 1, { preSeconds: -0.1 })).toThrow('preSeconds must lie within [0, 60]');
    expect(() => excerpt(clip, list, 1, { postSeconds: Number.NaN })).toThrow('postSeconds must be finite');
    expect(() => excerpt(clip.subarray(1), list, 1)).toThrow('must equal list.lengthSamples (48000)');
    expect(() => excerpt([clip, clip.subarray(1)], list, 1)).toThrow(RangeError);
    expect(() => excerpt(Array.from(clip) as never, list, 1)).toThrow(TypeError);
  });
});

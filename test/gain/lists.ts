import fc from 'fast-check';
import { FADE_SHAPES, REGION_KINDS, type Region, type RegionList } from '../../src/regions/region.js';
import { evenly } from '../lib/faded-lists.js';
import { region } from '../lib/region.js';

export { region };

/** A list of regions, numbered in order. */
export function listOf(lengthSamples: number, ...regions: Region[]): RegionList {
  return {
    sampleRateHz: 48000,
    lengthSamples,
    nextId: regions.length + 1,
    regions: regions.map((r, i) => ({ ...r, id: i + 1 })),
  };
}

/** Any valid list, touching regions, mutes, boosts, 0 dB and bypassed ones among them. */
export function anyList(mostDb = 24): fc.Arbitrary<RegionList> {
  const piece = fc.record({
    gap: fc.oneof(fc.constant(0), fc.nat(30)),
    length: fc.integer({ min: 1, max: 60 }),
    fadeIn: fc.oneof(fc.constantFrom(0, 1), evenly(0, 1)),
    fadeOut: fc.oneof(fc.constantFrom(0, 1), evenly(0, 1)),
    gainDb: fc.oneof(fc.constantFrom(-120, -6, 0), evenly(-120, mostDb)),
    bypassed: fc.boolean(),
    fadeShape: fc.constantFrom(...FADE_SHAPES),
    kind: fc.constantFrom(...REGION_KINDS),
  });
  return fc.tuple(fc.array(piece, { maxLength: 8 }), fc.nat(30)).map(([pieces, tail]) => {
    let at = 0;
    const regions = pieces.map(({ gap, length, fadeIn, fadeOut, ...rest }) => {
      const startSample = at + gap;
      const endSample = startSample + length;
      at = endSample;
      const fadeInSamples = Math.floor(fadeIn * length);
      const fadeOutSamples = Math.floor(fadeOut * (length - fadeInSamples));
      return region({ ...rest, startSample, endSample, fadeInSamples, fadeOutSamples });
    });
    return listOf(at + tail, ...regions);
  });
}

/** Seeded noise, even over −1 to 1 (a linear congruential generator, Numerical Recipes' constants, from memory). */
export function noise(length: number, seed = 1): Float32Array<ArrayBuffer> {
  let state = seed >>> 0;
  return new Float32Array(length).map(() => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2147483648 - 1;
  });
}

/** The bits of samples: tells −0 from 0 and one NaN from another. */
export function bits(samples: Float32Array): number[] {
  return Array.from(new Uint32Array(samples.slice().buffer));
}

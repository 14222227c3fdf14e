import fc from 'fast-check';
import { FADE_SHAPES, REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { region } from './region.js';

/** A number within [least, most], even by value: fc.double is even by its bits, so that half of its draws are next to nothing. */
export function evenly(least: number, most: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 1e6 }).map((n) => least + (n / 1e6) * (most - least));
}

/** Lists in which most regions are heard and have fades, one in three touches the one before it, and some fades fill their region. */
export function fadedLists(mostSamples = 400, mostDb = 24): fc.Arbitrary<RegionList> {
  const piece = fc.record({
    gap: fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: mostSamples })),
    length: fc.oneof(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: mostSamples })),
    fadeIn: fc.oneof(fc.constantFrom(0, 1), evenly(0, 1)),
    fadeOut: fc.oneof(fc.constantFrom(0, 1), evenly(0, 1)),
    gainDb: fc.oneof(fc.constantFrom(-120, -6, 0), evenly(-40, 0), evenly(-120, mostDb)),
    bypassed: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
    fadeShape: fc.constantFrom(...FADE_SHAPES),
    kind: fc.constantFrom(...REGION_KINDS),
  });
  const rates = fc.constantFrom(8000, 44100, 48000, 192000);
  return fc
    .tuple(fc.array(piece, { maxLength: 6 }), fc.nat(30), rates)
    .map(([pieces, tail, sampleRateHz]) => {
      let at = 0;
      const regions = pieces.map(({ gap, length, fadeIn, fadeOut, ...rest }, i) => {
        const startSample = at + gap;
        at = startSample + length;
        const fadeInSamples = Math.floor(fadeIn * length);
        const fadeOutSamples = Math.floor(fadeOut * (length - fadeInSamples));
        return region({ ...rest, id: i + 1, startSample, endSample: at, fadeInSamples, fadeOutSamples });
      });
      return { sampleRateHz, lengthSamples: at + tail, nextId: regions.length + 1, regions };
    });
}

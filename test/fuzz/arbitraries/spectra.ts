import fc from 'fast-check';
import { mulberry32 } from '../../lib/random.js';
import { rates, within } from './numbers.js';

/** An array of doubles within [least, most]. */
export function doubles(least: number, most: number, leastLength = 0): fc.Arbitrary<Float64Array> {
  return fc.tuple(fc.oneof(fc.nat(3), fc.nat(600)), fc.nat(), fc.nat(3)).map(([length, seed, how]) => {
    const uniform = mulberry32(seed);
    return Float64Array.from({ length: Math.max(length, leastLength) }, () =>
      how === 0 ? most : how === 1 ? least : least + (most - least) * uniform(),
    );
  });
}

/** Power spectra: silent, flat, one line, noise, tiny and huge, 1 to 1025 bins, of any rate. */
export const powers: fc.Arbitrary<{ readonly power: Float64Array; readonly binHz: number }> = fc
  .record({
    bins: fc.oneof(fc.constantFrom(1, 2, 3, 129, 257, 1025), fc.integer({ min: 1, max: 300 })),
    rate: rates,
    how: fc.constantFrom('silent', 'flat', 'line', 'noise', 'steep' as const),
    scale: fc.constantFrom(1e-300, 1e-20, 1, 1e6, 1e80),
    seed: fc.nat(),
  })
  .map(({ bins, rate, how, scale, seed }) => {
    const uniform = mulberry32(seed);
    const line = Math.floor(uniform() * bins);
    const power = Float64Array.from({ length: bins }, (_, k) => {
      if (how === 'silent') return 0;
      if (how === 'flat') return scale;
      if (how === 'line') return k === line ? scale : 0;
      return how === 'noise' ? scale * uniform() : scale / (1 + k) ** 4;
    });
    return { power, binHz: rate / Math.max(2, 2 * (bins - 1)) };
  });

/** Bands of a spectrum, some above all of it. */
export const frequencyBands: fc.Arbitrary<{ readonly lowHz: number; readonly highHz: number }> = fc
  .tuple(within(0, 20000), fc.oneof(fc.constant(Number.POSITIVE_INFINITY), within(1, 30000)))
  .map(([lowHz, width]) => ({ lowHz, highHz: lowHz + width }));

/** What any filter of the library can be designed from. */
export const filterDesigns: fc.Arbitrary<{
  readonly sampleRateHz: number;
  readonly frequencyHz: number;
  readonly q: number;
  readonly gainDb: number;
  readonly slope: number;
}> = fc
  .record({
    sampleRateHz: rates,
    share: within(0.0001, 0.4999),
    q: fc.oneof(fc.constantFrom(0.01, Math.SQRT1_2, 1000), within(0.01, 1000)),
    gainDb: fc.oneof(fc.constantFrom(-120, 0, 120), within(-24, 24)),
    slope: fc.oneof(fc.constant(1), within(0.01, 1)),
  })
  .map(({ share, ...rest }) => ({ ...rest, frequencyHz: share * rest.sampleRateHz }));

import fc from 'fast-check';
import { evenly } from '../../lib/faded-lists.js';

/** A number within [least, most]: its ends, even by value, or even by bits (tiny ones, denormals). */
export function within(least: number, most: number): fc.Arbitrary<number> {
  return fc.oneof(
    fc.constantFrom(least, most),
    evenly(least, most),
    fc.double({ min: least, max: most, noNaN: true }),
  );
}

/** A whole number within [least, most], the ends often. */
export function whole(least: number, most: number): fc.Arbitrary<number> {
  return fc.oneof(fc.constantFrom(least, most), fc.integer({ min: least, max: most }));
}

/** Any finite double. */
export const anyFinite: fc.Arbitrary<number> = fc.double({ noNaN: true, noDefaultInfinity: true });

/** Every common sample rate, the ends of what is taken, and rates in between, whole or not. */
export const rates: fc.Arbitrary<number> = fc.oneof(
  fc.constantFrom(8000, 11025, 16000, 22050, 44100, 48000, 88200, 96000, 176400, 192000),
  fc.integer({ min: 8000, max: 192000 }),
  evenly(8000, 192000),
);

/** An options object: each field there or left out. */
export function options<T extends object>(
  fields: { [K in keyof T]: fc.Arbitrary<T[K]> },
): fc.Arbitrary<Partial<T>> {
  return fc.record(fields, { requiredKeys: [] }) as fc.Arbitrary<Partial<T>>;
}

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { samplesToSeconds, samplesWithin, secondsToSamples } from '../../src/regions/time.js';

test('seconds become the nearest sample, halves up', () => {
  // Powers of two at 8192 Hz, so that the halves are exact.
  const halfSample = 0.5 / 8192;
  expect(secondsToSamples(3 * halfSample, 8192)).toBe(2);
  expect(secondsToSamples(halfSample, 8192)).toBe(1);
  expect(secondsToSamples(halfSample * (1 - 2 ** -53), 8192)).toBe(0);
  expect(secondsToSamples(-halfSample, 8192)).toBe(0);
  expect(secondsToSamples(-3 * halfSample, 8192)).toBe(-1);
  expect(secondsToSamples(1.25, 48000)).toBe(60000);
});

test('one timecode frame of 29.97 frames a second, 1001/30000 s, is 1601.6 samples at 48 kHz: 1602 (derived)', () => {
  expect(secondsToSamples(1001 / 30000, 48000)).toBe(1602);
  expect(samplesWithin(1001 / 30000, 48000)).toBe(1601);
});

test('every position comes back from its time in seconds, beyond ten hours at 192 kHz', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -(2 ** 51), max: 2 ** 51 }),
      fc.oneof(
        fc.constantFrom(8000, 11025, 44100, 48000, 192000),
        fc.double({ min: 8000, max: 192000, noNaN: true }),
      ),
      (samples, rate) => {
        expect(secondsToSamples(samplesToSeconds(samples, rate), rate)).toBe(samples + 0);
      },
    ),
    { numRuns: 3000 },
  );
});

test('what is no time or no position is refused', () => {
  expect(() => secondsToSamples(Number.NaN, 48000)).toThrow(RangeError);
  expect(() => secondsToSamples(1e300, 48000)).toThrow(RangeError);
  expect(() => secondsToSamples(1, 0)).toThrow(RangeError);
  expect(() => samplesToSeconds(0.5, 48000)).toThrow(RangeError);
  expect(() => samplesWithin(-1, 48000)).toThrow(RangeError);
});

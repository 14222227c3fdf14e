import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  amplitudeFromDecibels,
  decibelsFromAmplitude,
  decibelsFromPower,
  powerFromDecibels,
} from '../../src/signal/decibels.js';

test('6 dB down is a factor of 0.50119 and 12 dB down 0.25119 (common practice, no source; 10^(dB/20))', () => {
  // Tolerance: the figures are rounded to five decimals.
  expect(amplitudeFromDecibels(-6)).toBeCloseTo(0.50119, 5);
  expect(amplitudeFromDecibels(-12)).toBeCloseTo(0.25119, 5);
  expect(amplitudeFromDecibels(-3)).toBeCloseTo(0.70795, 5);
});

test('half the amplitude is 6.0206 dB down, half the power 3.0103 dB (20 and 10 times log10 2 = 0.30103)', () => {
  expect(decibelsFromAmplitude(0.5)).toBeCloseTo(-20 * 0.30102999566, 8);
  expect(decibelsFromPower(0.5)).toBeCloseTo(-10 * 0.30102999566, 8);
});

test('whole decades are exact', () => {
  expect(powerFromDecibels(30)).toBe(1000);
  expect(amplitudeFromDecibels(60)).toBe(1000);
  expect(decibelsFromPower(1000)).toBeCloseTo(30, 12);
});

test('0 is minus infinity decibels, and back', () => {
  expect(decibelsFromAmplitude(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(decibelsFromPower(0)).toBe(Number.NEGATIVE_INFINITY);
  expect(amplitudeFromDecibels(Number.NEGATIVE_INFINITY)).toBe(0);
  expect(powerFromDecibels(Number.NEGATIVE_INFINITY)).toBe(0);
});

test('there and back gives the level again, to the rounding of doubles at 300 dB (1e-12)', () => {
  fc.assert(
    fc.property(fc.double({ min: -300, max: 300, noNaN: true }), (dB) => {
      expect(decibelsFromAmplitude(amplitudeFromDecibels(dB))).toBeCloseTo(dB, 11);
      expect(decibelsFromPower(powerFromDecibels(dB))).toBeCloseTo(dB, 11);
    }),
    { seed: 1 },
  );
});

test('negative ratios, NaN, positive infinity and strings are refused', () => {
  for (const f of [decibelsFromAmplitude, decibelsFromPower]) {
    expect(() => f(-1)).toThrow(RangeError);
    expect(() => f(Number.NaN)).toThrow(RangeError);
    expect(() => f(Number.POSITIVE_INFINITY)).toThrow(RangeError);
    expect(() => f('1' as unknown as number)).toThrow(TypeError);
  }
  for (const f of [amplitudeFromDecibels, powerFromDecibels]) {
    expect(() => f(Number.NaN)).toThrow(RangeError);
    expect(() => f(Number.POSITIVE_INFINITY)).toThrow(RangeError);
    expect(() => f('1' as unknown as number)).toThrow(TypeError);
  }
});

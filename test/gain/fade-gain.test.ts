import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fadeGain } from '../../src/gain/fade-gain.js';
import { FADE_SHAPES, type FadeShape } from '../../src/regions/region.js';

const shapes = fc.constantFrom(...FADE_SHAPES);
const gains = fc.double({ min: 1e-6, max: 16, noNaN: true });

describe('fadeGain', () => {
  // W3C Web Audio API, exponentialRampToValueAtTime and linearRampToValueAtTime. Formulas READ (WebAudio/web-audio-api
  // index.bs, 121ea100); the values at 1/4, 1/2 and 3/4 computed from its figures from them, six decimals.
  it('moves straight in decibels as the exponential ramp of the Web Audio standard', () => {
    const values = [1, 2, 3].map((i) => fadeGain(i, 4, 1, 0.5, 'decibel'));
    for (const [i, expected] of [0.840896, Math.SQRT1_2, 0.594604].entries())
      expect(Math.abs((values[i] as number) - expected)).toBeLessThan(5.1e-7);
  });

  it('moves linearly as the linear ramp of the Web Audio standard', () => {
    expect([1, 2, 3].map((i) => fadeGain(i, 4, 1, 0.5, 'linear'))).toEqual([0.875, 0.75, 0.625]);
  });

  // Closed form: (1 − cos 45°)/2 = (1 − √½)/2 and (1 − cos 135°)/2 = (1 + √½)/2. Rounding of doubles is 1e-16.
  it('follows half a cosine as a raised-cosine fade', () => {
    expect(fadeGain(1, 4, 1, 2, 'raisedCosine')).toBeCloseTo(1 + (1 - Math.SQRT1_2) / 2, 14);
    expect(fadeGain(2, 4, 1, 2, 'raisedCosine')).toBeCloseTo(1.5, 14);
    expect(fadeGain(3, 4, 1, 2, 'raisedCosine')).toBeCloseTo(1 + (1 + Math.SQRT1_2) / 2, 14);
  });

  it('goes half way in decibels to a mute: 60 of 120 dB at the middle', () => {
    expect(fadeGain(5, 10, 1, 1e-6, 'decibel')).toBeCloseTo(1e-3, 12);
  });

  it('starts at the first gain exactly and would arrive at the second one sample after its last', () => {
    fc.assert(
      fc.property(shapes, gains, gains, fc.integer({ min: 1, max: 5000 }), (shape, g0, g1, n) => {
        expect(fadeGain(0, n, g0, g1, shape)).toBe(g0);
        // A sum or a power of doubles: a few units in the last place of the larger gain.
        expect(Math.abs(fadeGain(n, n, g0, g1, shape) - g1)).toBeLessThanOrEqual(Math.max(g0, g1) * 1e-14);
      }),
    );
  });

  it('never leaves the range of its two gains and never turns back', () => {
    fc.assert(
      fc.property(shapes, gains, gains, fc.integer({ min: 1, max: 300 }), (shape, g0, g1, n) => {
        const curve = Array.from({ length: n }, (_, i) => fadeGain(i, n, g0, g1, shape));
        const direction = Math.sign(g1 - g0);
        const slack = Math.max(g0, g1) * 1e-15;
        for (let i = 0; i < n; i++) {
          const gain = curve[i] as number;
          expect(gain).toBeGreaterThanOrEqual(Math.min(g0, g1) - slack);
          expect(gain).toBeLessThanOrEqual(Math.max(g0, g1) + slack);
          if (i > 0) expect((gain - (curve[i - 1] as number)) * direction).toBeGreaterThanOrEqual(-slack);
        }
      }),
    );
  });

  it('stands still between equal gains, to the bit', () => {
    fc.assert(
      fc.property(shapes, gains, fc.nat(99), (shape, gain, i) => {
        expect(fadeGain(i, 100, gain, gain, shape)).toBe(gain);
      }),
    );
  });

  it('stays between gains as far apart as doubles are', () => {
    for (const [from, to] of [
      [Number.MIN_VALUE, 1],
      [Number.MIN_VALUE, Number.MAX_VALUE],
      [Number.MAX_VALUE, Number.MIN_VALUE],
    ] as const) {
      const middle = fadeGain(1, 2, from, to, 'decibel');
      // Half way in dB is the geometric mean; 1e-12 is some thousand roundings.
      expect(Math.abs(middle / (Math.sqrt(from) * Math.sqrt(to)) - 1)).toBeLessThan(1e-12);
    }
  });

  it('refuses positions outside the fade, gains that are not above 0 and unknown shapes', () => {
    expect(() => fadeGain(-1, 4, 1, 0.5, 'linear')).toThrow(RangeError);
    expect(() => fadeGain(5, 4, 1, 0.5, 'linear')).toThrow(RangeError);
    expect(() => fadeGain(0, 0, 1, 0.5, 'linear')).toThrow(/fadeGain: n /);
    expect(() => fadeGain(0, 4, 0, 0.5, 'linear')).toThrow(/fromGain/);
    expect(() => fadeGain(0, 4, 1, Number.NaN, 'linear')).toThrow(/toGain must be finite; received NaN/);
    expect(() => fadeGain(0, 4, 1, '1' as unknown as number, 'linear')).toThrow(TypeError);
    expect(() => fadeGain(1, 4, 1, 0.5, 'wavy' as FadeShape)).toThrow(/shape must be one of linear/);
  });
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type BiquadCoefficients,
  bandPass,
  highPass,
  highShelf,
  lowPass,
  lowShelf,
  peaking,
} from '../../src/signal/biquad-design.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';

const RATE = 48000;

function gainDb(section: BiquadCoefficients, frequencyHz: number, sampleRateHz = RATE): number {
  return magnitudeResponseDb(section, [frequencyHz], { sampleRateHz })[0]!;
}

// Vectors: Bristow-Johnson, "Audio EQ Cookbook" formulas (READ WebAudio/Audio-EQ-Cookbook), worked out for these settings
// (computed from its figures, q = √½). 1e-14: the last digit of doubles near 1.
test('high-pass 5 kHz at 48 kHz has the coefficients of the cookbook and −3.0103 dB at its corner', () => {
  const section = highPass({ sampleRateHz: RATE, frequencyHz: 5000, q: Math.SQRT1_2 });
  expect(Math.abs(section.b0 - 0.6268452716349666)).toBeLessThan(1e-14);
  expect(Math.abs(section.b1 + 2 * 0.6268452716349666)).toBeLessThan(2e-14);
  expect(section.b2).toBe(section.b0);
  expect(Math.abs(section.a1 + 1.1092287926184268)).toBeLessThan(1e-14);
  expect(Math.abs(section.a2 - 0.3981522939214395)).toBeLessThan(1e-14);
  expect(gainDb(section, 5000)).toBeCloseTo(-3.0103, 4);
  expect(highPass({ sampleRateHz: RATE, frequencyHz: 5000 })).toEqual(section);
});

test('high shelf 6 kHz −6 dB at 48 kHz has the coefficients of the cookbook and −3 dB at its midpoint', () => {
  const section = highShelf({ sampleRateHz: RATE, frequencyHz: 6000, gainDb: -6, slope: 1 });
  const expected = {
    b0: 0.6018441187366628,
    b1: -0.47043675142665836,
    b2: 0.16955558101713294,
    a1: -1.0884132620339568,
    a2: 0.38937621036109443,
  };
  for (const key of ['b0', 'b1', 'b2', 'a1', 'a2'] as const)
    expect(Math.abs(section[key] - expected[key])).toBeLessThan(1e-14);
  expect(gainDb(section, 6000)).toBeCloseTo(-3, 10);
  expect(highShelf({ sampleRateHz: RATE, frequencyHz: 6000, gainDb: -6 })).toEqual(section);
});

/** |H(jx)| in dB of (n2·s² + n1·s + n0) / (d2·s² + d1·s + d0). */
function analogueDb(
  n: readonly [number, number, number],
  d: readonly [number, number, number],
  x: number,
): number {
  const magnitude = ([c2, c1, c0]: readonly [number, number, number]) => Math.hypot(c0 - c2 * x * x, c1 * x);
  return 20 * Math.log10(magnitude(n) / magnitude(d));
}

// Analogue prototypes of the cookbook (READ, same source); the bilinear transform puts analogue frequency
// tan(ω/2)/tan(ω0/2) at ω. 1e-6 dB: near 0 Hz the digital form subtracts nearly equal numbers.
test('every design has the response of its analogue prototype at the warped frequency', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(8000, 44100, 48000, 96000, 192000),
      fc.double({ min: 0.005, max: 0.49, noNaN: true }),
      fc.double({ min: 0.005, max: 0.49, noNaN: true }),
      fc.double({ min: 0.1, max: 20, noNaN: true }),
      fc.double({ min: -24, max: 24, noNaN: true }),
      fc.double({ min: 0.1, max: 1, noNaN: true }),
      (sampleRateHz, centre, at, q, dB, slope) => {
        const x = Math.tan(Math.PI * at) / Math.tan(Math.PI * centre);
        const base = { sampleRateHz, frequencyHz: centre * sampleRateHz };
        const a = 10 ** (dB / 40);
        const root = Math.sqrt(a) * Math.sqrt((a + 1 / a) * (1 / slope - 1) + 2);
        const pairs: [BiquadCoefficients, number][] = [
          [lowPass({ ...base, q }), analogueDb([0, 0, 1], [1, 1 / q, 1], x)],
          [highPass({ ...base, q }), analogueDb([1, 0, 0], [1, 1 / q, 1], x)],
          [bandPass({ ...base, q }), analogueDb([0, 1 / q, 0], [1, 1 / q, 1], x)],
          [peaking({ ...base, q, gainDb: dB }), analogueDb([1, a / q, 1], [1, 1 / (a * q), 1], x)],
          [lowShelf({ ...base, gainDb: dB, slope }), analogueDb([a, a * root, a * a], [a, root, 1], x)],
          [highShelf({ ...base, gainDb: dB, slope }), analogueDb([a * a, a * root, a], [1, root, a], x)],
        ];
        for (const [section, expected] of pairs)
          expect(Math.abs(gainDb(section, at * sampleRateHz, sampleRateHz) - expected)).toBeLessThan(1e-6);
      },
    ),
    { seed: 1, numRuns: 500 },
  );
});

test('every design is stable over all its settings: |a2| < 1 and |a1| < 1 + a2 (the stability triangle)', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.001, max: 0.499, noNaN: true }),
      fc.double({ min: 0.01, max: 1000, noNaN: true }),
      fc.double({ min: -120, max: 120, noNaN: true }),
      fc.double({ min: 0.01, max: 1, noNaN: true }),
      (centre, q, dB, slope) => {
        const base = { sampleRateHz: RATE, frequencyHz: centre * RATE };
        for (const { a1, a2 } of [
          lowPass({ ...base, q }),
          highPass({ ...base, q }),
          bandPass({ ...base, q }),
          peaking({ ...base, q, gainDb: dB }),
          lowShelf({ ...base, gainDb: dB, slope }),
          highShelf({ ...base, gainDb: dB, slope }),
        ]) {
          expect(Math.abs(a2)).toBeLessThan(1);
          expect(Math.abs(a1)).toBeLessThan(1 + a2);
        }
      },
    ),
    { seed: 1, numRuns: 500 },
  );
});

test('gain 0 passes everything unchanged', () => {
  const base = { sampleRateHz: RATE, frequencyHz: 6000, gainDb: 0 };
  for (const section of [peaking({ ...base, q: 2 }), lowShelf(base), highShelf(base)])
    for (const frequencyHz of [0, 100, 6000, 24000]) expect(gainDb(section, frequencyHz)).toBeCloseTo(0, 10);
});

test('frequencies from half the sample rate on, and values out of range, are refused', () => {
  for (const frequencyHz of [0, -1, 24000, 30000, Number.NaN, Number.POSITIVE_INFINITY]) {
    const base = { sampleRateHz: RATE, frequencyHz };
    expect(() => lowPass(base)).toThrow(RangeError);
    expect(() => highPass(base)).toThrow(RangeError);
    expect(() => bandPass({ ...base, q: 1 })).toThrow(RangeError);
    expect(() => peaking({ ...base, q: 1, gainDb: 1 })).toThrow(RangeError);
    expect(() => lowShelf({ ...base, gainDb: 1 })).toThrow(RangeError);
    expect(() => highShelf({ ...base, gainDb: 1 })).toThrow(RangeError);
  }
  const good = { sampleRateHz: RATE, frequencyHz: 1000 };
  expect(() => lowPass({ ...good, q: 0 })).toThrow('lowPass: q must lie within [0.01, 1000]; received 0');
  expect(() => lowShelf({ ...good, gainDb: 3, slope: 1.5 })).toThrow(RangeError);
  expect(() => highShelf({ ...good, gainDb: 200 })).toThrow(RangeError);
  expect(() => bandPass({ ...good } as never)).toThrow(TypeError);
  expect(() => peaking({ ...good, gainDb: 3 } as never)).toThrow(TypeError);
  expect(() => highPass({ ...good, sampleRateHz: 1000 })).toThrow(RangeError);
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import type { Doubles } from '../../src/signal/samples.js';
import { uniformNoise } from './noise.js';

const SIZES = [2, 4, 8, 16, 32, 64, 128, 256, 512, 1024];

/** The definition, term by term: X[k] = Σ x[n]·e^(−2πikn/N). */
function definition(values: Doubles): Doubles {
  const size = values.length / 2;
  const spectrum = new Float64Array(2 * size);
  for (let k = 0; k < size; k++)
    for (let n = 0; n < size; n++) {
      const angle = (-2 * Math.PI * ((k * n) % size)) / size;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      spectrum[2 * k]! += values[2 * n]! * c - values[2 * n + 1]! * s;
      spectrum[2 * k + 1]! += values[2 * n]! * s + values[2 * n + 1]! * c;
    }
  return spectrum;
}

function complexOf(frame: Doubles): Doubles {
  return Float64Array.from({ length: 2 * frame.length }, (_, i) => (i % 2 ? 0 : frame[i / 2]!));
}

function greatestDifference(a: Doubles, b: Doubles): number {
  expect(a.length).toBe(b.length);
  return a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
}

// Tolerance throughout: values up to about N, each the sum of N roundings of 1e-16, most of which cancel.
const tolerance = (size: number) => 1e-14 * size;

test.each(SIZES)('%i points: real and complex transforms equal the definition', (size) => {
  const plan = createFftPlan(size);
  const frame = uniformNoise(size, size);
  const spectrum = new Float64Array(size + 2);
  plan.forwardReal(frame, spectrum);
  expect(greatestDifference(spectrum, definition(complexOf(frame)).slice(0, size + 2))).toBeLessThan(
    tolerance(size),
  );

  const values = uniformNoise(2 * size, size + 1);
  const whole = new Float64Array(2 * size);
  plan.forwardComplex(values, whole);
  expect(greatestDifference(whole, definition(values))).toBeLessThan(tolerance(size));
});

test.each(SIZES)('%i points: the inverses give the frame back', (size) => {
  const plan = createFftPlan(size);
  const frame = uniformNoise(size, 7);
  const spectrum = new Float64Array(size + 2);
  const back = new Float64Array(size);
  plan.forwardReal(frame, spectrum);
  plan.inverseReal(spectrum, back);
  expect(greatestDifference(back, frame)).toBeLessThan(1e-14);

  const values = uniformNoise(2 * size, 8);
  const whole = new Float64Array(2 * size);
  const again = new Float64Array(2 * size);
  plan.forwardComplex(values, whole);
  plan.inverseComplex(whole, again);
  expect(greatestDifference(again, values)).toBeLessThan(1e-14);
});

test('a sine between bins has the spectrum of its closed form, a sum of two geometric series', () => {
  // Σ e^(iθn), n < N, is e^(iθ(N−1)/2)·sin(θN/2)/sin(θ/2) (closed form).
  const size = 256;
  const cycles = 20.3;
  const phase = 0.7;
  const plan = createFftPlan(size);
  const spectrum = new Float64Array(size + 2);
  plan.forwardReal(
    Float64Array.from({ length: size }, (_, n) => Math.cos((2 * Math.PI * cycles * n) / size + phase)),
    spectrum,
  );
  for (let k = 0; k <= size / 2; k++) {
    let re = 0;
    let im = 0;
    for (const sign of [1, -1]) {
      const theta = (2 * Math.PI * (sign * cycles - k)) / size;
      const magnitude = Math.sin((theta * size) / 2) / Math.sin(theta / 2) / 2;
      const angle = (theta * (size - 1)) / 2 + sign * phase;
      re += magnitude * Math.cos(angle);
      im += magnitude * Math.sin(angle);
    }
    expect(Math.abs(spectrum[2 * k]! - re)).toBeLessThan(1e-11);
    expect(Math.abs(spectrum[2 * k + 1]! - im)).toBeLessThan(1e-11);
  }
});

test('energy is the same in time and in frequency (Parseval): N·Σx² = P[0] + 2·ΣP[k] + P[N/2]', () => {
  for (const size of SIZES) {
    const plan = createFftPlan(size);
    const frame = uniformNoise(size, 3);
    const power = new Float64Array(plan.binCount);
    plan.powerSpectrum(frame, power);
    const inTime = size * frame.reduce((sum, x) => sum + x * x, 0);
    const inFrequency = power.reduce((sum, p, k) => sum + (k === 0 || k === size / 2 ? p : 2 * p), 0);
    expect(Math.abs(inFrequency / inTime - 1)).toBeLessThan(1e-13);
  }
});

test('two frames in one transform equal two transforms to 1e-12 of the greatest power of the pair', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...SIZES),
      fc.integer({ min: 1, max: 1e9 }),
      fc.double({ min: -8, max: 0, noNaN: true }),
      (size, seed, decades) => {
        const plan = createFftPlan(size);
        const a = uniformNoise(size, seed);
        const b = uniformNoise(size, seed + 1).map((x) => x * 10 ** decades);
        const alone = new Float64Array(plan.binCount);
        // What the arrays held before must not matter.
        const pairA = new Float64Array(plan.binCount).fill(Number.NaN);
        const pairB = new Float64Array(plan.binCount).fill(7);
        plan.powerSpectraOfPair(a, b, pairA, pairB);
        const greatest = Math.max(...pairA, ...pairB);
        plan.powerSpectrum(a, alone);
        expect(greatestDifference(pairA, alone)).toBeLessThanOrEqual(1e-12 * greatest);
        plan.powerSpectrum(b, alone);
        expect(greatestDifference(pairB, alone)).toBeLessThanOrEqual(1e-12 * greatest);
      },
    ),
    { seed: 1, numRuns: 200 },
  );
});

test('one frame may stand for both of a pair', () => {
  const plan = createFftPlan(64);
  const frame = uniformNoise(64);
  const [a, b] = [new Float64Array(33), new Float64Array(33)];
  plan.powerSpectraOfPair(frame, frame, a, b);
  expect(greatestDifference(a, b)).toBeLessThan(1e-12);
});

test('calls leave their inputs alone and do not remember one another', () => {
  const plan = createFftPlan(32);
  const frame = uniformNoise(32);
  const copy = frame.slice();
  const [first, second, other] = [new Float64Array(34), new Float64Array(34), new Float64Array(17)];
  plan.forwardReal(frame, first);
  const spectrum = first.slice();
  plan.inverseReal(first, new Float64Array(32));
  plan.powerSpectraOfPair(frame, frame, other, new Float64Array(17));
  plan.forwardReal(frame, second);
  expect(second).toEqual(spectrum);
  expect(first).toEqual(spectrum);
  expect(frame).toEqual(copy);
});

test('imaginary parts of bins 0 and N/2 do not matter to the inverse of a real frame', () => {
  const plan = createFftPlan(8);
  const spectrum = new Float64Array(10);
  plan.forwardReal(uniformNoise(8), spectrum);
  const [clean, dirty] = [new Float64Array(8), new Float64Array(8)];
  plan.inverseReal(spectrum, clean);
  spectrum[1] = 5;
  spectrum[9] = -5;
  plan.inverseReal(spectrum, dirty);
  expect(dirty).toEqual(clean);
});

test('sizes other than powers of two from 2 on are refused', () => {
  for (const size of [0, 1, 3, 12, 1000, -8, 2.5, 2 ** 25, Number.NaN])
    expect(() => createFftPlan(size)).toThrow(RangeError);
  expect(() => createFftPlan('8' as unknown as number)).toThrow(TypeError);
});

test('arrays of the wrong kind or length, or handed in twice, are refused by name', () => {
  const plan = createFftPlan(8);
  const f = (length: number) => new Float64Array(length);
  expect(() => plan.forwardReal(f(7), f(10))).toThrow(
    'FftPlan.forwardReal: frame.length must be 8; received 7',
  );
  expect(() => plan.forwardReal(f(8), f(9))).toThrow(RangeError);
  expect(() => plan.inverseReal(f(8), f(8))).toThrow(RangeError);
  expect(() => plan.powerSpectrum(f(8), f(8))).toThrow(RangeError);
  expect(() => plan.powerSpectrum(new Float32Array(8) as unknown as Doubles, f(5))).toThrow(TypeError);
  expect(() => plan.powerSpectraOfPair(f(8), f(8), f(5), f(4))).toThrow(RangeError);
  const twice = f(16);
  expect(() => plan.forwardComplex(twice, twice)).toThrow(RangeError);
  expect(() => plan.inverseComplex(twice, twice)).toThrow(RangeError);
  const power = f(5);
  expect(() => plan.powerSpectraOfPair(f(8), f(8), power, power)).toThrow(RangeError);
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bandPass, highPass, highShelf, peaking } from '../../src/signal/biquad-design.js';
import { createBiquadState, filterBlockInto, filterSamples } from '../../src/signal/biquad-filter.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { frequencyResponse } from '../../src/signal/frequency-response.js';
import { noiseSamples } from './noise.js';

const RATE = 48000;
const sections = [
  highPass({ sampleRateHz: RATE, frequencyHz: 3000 }),
  peaking({ sampleRateHz: RATE, frequencyHz: 7000, q: 2, gainDb: 6 }),
  highShelf({ sampleRateHz: RATE, frequencyHz: 9000, gainDb: -4 }),
];

test('a pair of poles rings as its closed form: h[n] = rⁿ·sin((n+1)θ)/sin θ', () => {
  const r = 0.95;
  const theta = 0.4;
  const ringing = { b0: 1, b1: 0, b2: 0, a1: -2 * r * Math.cos(theta), a2: r * r };
  const impulse = new Float32Array(300);
  impulse[0] = 1;
  filterSamples(impulse, ringing).forEach((y, n) => {
    // 2e-7: values up to 2.6 rounded to 32 bits (half a step of 2^-22 is 1.2e-7).
    expect(Math.abs(y - (r ** n * Math.sin((n + 1) * theta)) / Math.sin(theta))).toBeLessThan(2e-7);
  });
});

test('the transform of the impulse response is the frequency response', () => {
  const size = 4096;
  const plan = createFftPlan(size);
  const impulse = new Float32Array(size);
  impulse[0] = 1;
  const spectrum = new Float64Array(size + 2);
  plan.forwardReal(Float64Array.from(filterSamples(impulse, sections)), spectrum);
  const frequenciesHz = Float64Array.from({ length: plan.binCount }, (_, k) => (k * RATE) / size);
  const { real, imaginary } = frequencyResponse(sections, frequenciesHz, { sampleRateHz: RATE });
  for (let k = 0; k < plan.binCount; k++) {
    // 1e-6: the impulse response was rounded to 32 bits, about 6e-8 of values that sum to a few.
    expect(Math.abs(spectrum[2 * k]! - real[k]!)).toBeLessThan(1e-6);
    expect(Math.abs(spectrum[2 * k + 1]! - imaginary[k]!)).toBeLessThan(1e-6);
  }
});

test('several sections in a row are one after another, without rounding between them', () => {
  const clip = noiseSamples(2000);
  const inSteps = sections.reduce((x, section) => filterSamples(x, section), clip);
  filterSamples(clip, sections).forEach((y, n) => {
    expect(Math.abs(y - inSteps[n]!)).toBeLessThan(1e-6);
  });
  const gain = (b0: number) => ({ b0, b1: 0, b2: 0, a1: 0, a2: 0 });
  // Between these sections the value is 1e-60, which 32 bits do not hold.
  expect(Array.from(filterSamples(Float32Array.of(1), [gain(1e-60), gain(1e60)]))).toEqual([1]);
});

test('blocks of any lengths give bit for bit what the whole clip gives, in place too', () => {
  const clip = noiseSamples(1500);
  const whole = filterSamples(clip, sections);
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 400 }), { maxLength: 20 }),
      fc.boolean(),
      (lengths, inPlace) => {
        const state = createBiquadState(sections.length);
        const out = inPlace ? clip.slice() : new Float32Array(clip.length);
        let at = 0;
        for (const length of [...lengths, clip.length]) {
          const end = Math.min(clip.length, at + length);
          const block = (inPlace ? out : clip).subarray(at, end);
          filterBlockInto(out.subarray(at, end), block, sections, state);
          at = end;
        }
        expect(out).toEqual(whole);
      },
    ),
    { seed: 1 },
  );
});

test('the clip itself is not changed, and an empty one stays empty', () => {
  const clip = noiseSamples(100);
  const copy = clip.slice();
  filterSamples(clip, sections);
  expect(clip).toEqual(copy);
  expect(filterSamples(new Float32Array(0), sections).length).toBe(0);
});

test('a tail dies to exact silence in the state, not to subnormal numbers', () => {
  const section = bandPass({ sampleRateHz: RATE, frequencyHz: 3000, q: 1 });
  const state = createBiquadState(1);
  const block = new Float32Array(10000);
  block[0] = 1;
  filterBlockInto(block, block, section, state);
  expect(Array.from(state)).toEqual([0, 0]);
});

test('NaN and Infinity are refused with their index, and nothing is changed by the refused call', () => {
  const clip = noiseSamples(20);
  clip[13] = Number.POSITIVE_INFINITY;
  expect(() => filterSamples(clip, sections)).toThrow('samples[13] must be finite; received Infinity');
  const state = createBiquadState(3);
  const out = new Float32Array(20);
  expect(() => filterBlockInto(out, clip, sections, state)).toThrow('block[13]');
  expect(out).toEqual(new Float32Array(20));
  expect(state).toEqual(new Float64Array(6));
});

test('wrong sections, states and arrays are refused', () => {
  const clip = noiseSamples(4);
  const state = createBiquadState(1);
  const section = sections[0]!;
  expect(() => filterSamples(clip, [])).toThrow(RangeError);
  expect(() => filterSamples(clip, { ...section, a2: Number.NaN })).toThrow('a2 must be finite');
  expect(() => filterSamples(clip, null as never)).toThrow(TypeError);
  expect(() => filterSamples(clip, { b0: 1 } as never)).toThrow(TypeError);
  expect(() => filterSamples([1] as never, section)).toThrow(TypeError);
  expect(() => filterBlockInto(new Float32Array(3), clip, section, state)).toThrow('out.length');
  expect(() => filterBlockInto(clip, clip, sections, state)).toThrow('state.length must be 6; received 2');
  expect(() => filterBlockInto([] as never, clip, section, state)).toThrow(TypeError);
  expect(() => filterBlockInto(clip, clip, section, [0, 0] as never)).toThrow(TypeError);
  expect(() => createBiquadState(0)).toThrow(RangeError);
});

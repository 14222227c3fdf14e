import { expect, test } from 'vitest';
import { frequencyResponse, magnitudeResponseDb } from '../../src/signal/frequency-response.js';

const options = { sampleRateHz: 48000 };
const fir = (b0: number, b1: number, b2: number) => ({ b0, b1, b2, a1: 0, a2: 0 });

test('a mean of two samples has gain cos(ω/2) and the phase of half a sample (closed form)', () => {
  const frequenciesHz = [0, 1000, 12000, 23000];
  const { real, imaginary } = frequencyResponse(fir(0.5, 0.5, 0), frequenciesHz, options);
  frequenciesHz.forEach((f, i) => {
    const half = (Math.PI * f) / 48000;
    expect(real[i]).toBeCloseTo(Math.cos(half) * Math.cos(half), 14);
    expect(imaginary[i]).toBeCloseTo(-Math.cos(half) * Math.sin(half), 14);
  });
});

test('a one-pole low-pass has gain (1 − p) / |1 − p·e^(−iω)| (closed form)', () => {
  const p = 0.9;
  const section = { b0: 1 - p, b1: 0, b2: 0, a1: -p, a2: 0 };
  for (const f of [0, 100, 5000, 24000]) {
    const w = (2 * Math.PI * f) / 48000;
    const expected = 20 * Math.log10((1 - p) / Math.sqrt(1 - 2 * p * Math.cos(w) + p * p));
    expect(magnitudeResponseDb(section, [f], options)[0]).toBeCloseTo(expected, 10);
  }
});

test('a one-pole low-pass turns the phase by −atan(p·sin ω / (1 − p·cos ω)) (closed form)', () => {
  const p = 0.9;
  const { real, imaginary } = frequencyResponse({ b0: 1 - p, b1: 0, b2: 0, a1: -p, a2: 0 }, [2000], options);
  const w = (2 * Math.PI * 2000) / 48000;
  const expected = -Math.atan((p * Math.sin(w)) / (1 - p * Math.cos(w)));
  expect(Math.atan2(imaginary[0]!, real[0]!)).toBeCloseTo(expected, 12);
});

test('a second difference passes nothing at 0 Hz: −Infinity dB', () => {
  expect(magnitudeResponseDb(fir(1, -2, 1), [0], options)[0]).toBe(Number.NEGATIVE_INFINITY);
});

test('sections in a row multiply: levels add and angles add', () => {
  const one = { b0: 1, b1: 0.3, b2: -0.2, a1: 0.1, a2: 0.4 };
  const two = { b0: 0.7, b1: -0.5, b2: 0.1, a1: -0.6, a2: 0.2 };
  const f = [3000];
  const dB = (s: Parameters<typeof magnitudeResponseDb>[0]) => magnitudeResponseDb(s, f, options)[0]!;
  const angle = (s: Parameters<typeof frequencyResponse>[0]) => {
    const { real, imaginary } = frequencyResponse(s, f, options);
    return Math.atan2(imaginary[0]!, real[0]!);
  };
  expect(dB([one, two])).toBeCloseTo(dB(one) + dB(two), 10);
  expect(Math.cos(angle([one, two]) - angle(one) - angle(two))).toBeCloseTo(1, 12);
});

test('no frequencies give an empty answer; frequencies above half the rate are refused with their index', () => {
  expect(magnitudeResponseDb(fir(1, 0, 0), [], options).length).toBe(0);
  expect(() => magnitudeResponseDb(fir(1, 0, 0), [0, 24001], options)).toThrow('frequenciesHz[1]');
  expect(() => frequencyResponse(fir(1, 0, 0), [-1], options)).toThrow(RangeError);
  expect(() => frequencyResponse(fir(1, 0, 0), [1], { sampleRateHz: 0 })).toThrow(RangeError);
  expect(() => frequencyResponse([], [1], options)).toThrow(RangeError);
});

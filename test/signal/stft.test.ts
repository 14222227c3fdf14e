import fc from 'fast-check';
import { expect, test } from 'vitest';
import { istft } from '../../src/signal/istft.js';
import type { Doubles, Samples } from '../../src/signal/samples.js';
import { type StftOptions, stft } from '../../src/signal/stft.js';
import { WINDOW_NAMES } from '../../src/signal/windows.js';
import { noiseSamples } from './noise.js';

const hann: StftOptions = { sampleRateHz: 8000, frameSeconds: 0.008, hopSeconds: 0.002, window: 'hann' };

function greatestDifference(a: Samples, b: Samples): number {
  expect(a.length).toBe(b.length);
  return a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
}

test('unchanged spectra give the clip back for every window, length and hop up to half a frame', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...WINDOW_NAMES),
      fc.integer({ min: 0, max: 700 }),
      fc.integer({ min: 2, max: 100 }),
      fc.double({ min: 0.02, max: 1, noNaN: true }),
      fc.integer({ min: 1, max: 1e9 }),
      (window, lengthSamples, halfFrame, hopShare, seed) => {
        const hopSamples = Math.max(1, Math.floor(halfFrame * hopShare));
        const clip = noiseSamples(lengthSamples, seed);
        const table = stft(clip, {
          sampleRateHz: 8000,
          frameSeconds: (2 * halfFrame) / 8000,
          hopSeconds: hopSamples / 8000,
          window,
        });
        expect(table.grid.frameSamples).toBe(2 * halfFrame);
        expect(table.grid.hopSamples).toBe(hopSamples);
        // One step of a 32-bit sample under full scale: 2^-24.
        expect(greatestDifference(istft(table), clip)).toBeLessThanOrEqual(2 ** -24);
      },
    ),
    { seed: 1, numRuns: 300 },
  );
});

test('a hop longer than the frame leaves samples uncovered, and the error names the first', () => {
  // Frame 0 covers samples −32 to 31, frame 1 begins at 100 − 32.
  const table = stft(noiseSamples(1000), { ...hann, hopSeconds: 100 / 8000, window: 'rectangular' });
  expect(() => istft(table)).toThrow(RangeError);
  expect(() => istft(table)).toThrow('at sample 32 ');
});

test('a Hann frame without overlap is lost where the window is 0 (NOLA fails), and the error says so', () => {
  // Frame 1 begins at 64 − 32 = 32, where the periodic Hann window is 0 (scipy's check_NOLA documentation, READ).
  const table = stft(noiseSamples(96), { ...hann, hopSeconds: 64 / 8000 });
  expect(() => istft(table)).toThrow('at sample 32 ');
});

test('a sine on a bin shows as half its amplitude times the sum of the window, at that bin', () => {
  // Closed form: a·cos at bin b of an N-point frame gives |X[b]| = a/2·Σw; Hann Σw = N/2 and neighbours half of that.
  const clip = Float32Array.from({ length: 800 }, (_, n) => 0.5 * Math.cos((2 * Math.PI * 8 * n) / 64));
  const { values, binCount, grid } = stft(clip, hann);
  expect(binCount).toBe(33);
  const magnitude = (k: number, b: number) =>
    Math.hypot(values[2 * (k * binCount + b)]!, values[2 * (k * binCount + b) + 1]!);
  for (let k = 2; k < grid.frameCount - 2; k++) {
    // 1e-6: the sine was rounded to 32 bits (6e-8) and 64 such roundings add up.
    expect(Math.abs(magnitude(k, 8) - (0.5 / 2) * 32)).toBeLessThan(1e-6);
    expect(Math.abs(magnitude(k, 7) - (0.5 / 2) * 16)).toBeLessThan(1e-6);
    expect(magnitude(k, 12)).toBeLessThan(1e-6);
  }
});

test('halved spectra give the clip at half its level', () => {
  const clip = noiseSamples(500);
  const table = stft(clip, hann);
  for (let i = 0; i < table.values.length; i++) table.values[i]! *= 0.5;
  expect(
    greatestDifference(
      istft(table),
      clip.map((x) => x / 2),
    ),
  ).toBeLessThanOrEqual(2 ** -25);
});

test('an empty clip has no frames and comes back empty; silence comes back as silence', () => {
  const table = stft(new Float32Array(0), hann);
  expect(table.grid.frameCount).toBe(0);
  expect(istft(table).length).toBe(0);
  expect(istft(stft(new Float32Array(100), hann))).toEqual(new Float32Array(100));
});

test('NaN is refused with its index, other arrays by kind, and tables that do not fit their grid by length', () => {
  const clip = noiseSamples(50);
  clip[7] = Number.NaN;
  expect(() => stft(clip, hann)).toThrow('stft: samples[7] must be finite; received NaN');
  expect(() => stft([0, 1] as unknown as Samples, hann)).toThrow(TypeError);
  expect(() => stft(noiseSamples(5), { ...hann, window: 'x' as 'hann' })).toThrow(RangeError);
  const table = stft(noiseSamples(50), hann);
  expect(() => istft({ ...table, values: table.values.slice(1) })).toThrow('table.values.length');
  expect(() => istft({ ...table, window: table.window.slice(1) })).toThrow('table.window.length');
  expect(() => istft({ ...table, values: [] as unknown as Doubles })).toThrow(TypeError);
});

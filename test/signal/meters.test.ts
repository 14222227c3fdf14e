import { expect, test } from 'vitest';
import { peak, peakDbfs, rms, rmsDbfs } from '../../src/signal/meters.js';

const sine = (amplitude: number) =>
  Float32Array.from({ length: 4800 }, (_, n) => amplitude * Math.sin((2 * Math.PI * n) / 48));

test('a full-scale sine has RMS √½, −3.0103 dBFS, and peak 1, 0 dBFS (closed form)', () => {
  // 1e-7: the rounding of 32-bit samples.
  expect(rms(sine(1))).toBeCloseTo(Math.SQRT1_2, 7);
  expect(rmsDbfs(sine(1))).toBeCloseTo(-10 * Math.log10(2), 6);
  expect(peak(sine(1))).toBe(1);
  expect(peakDbfs(sine(1))).toBe(0);
});

test('a square wave at full scale reads 0 dBFS on both meters', () => {
  const square = Float32Array.of(1, -1, 1, -1);
  expect(rmsDbfs(square)).toBe(0);
  expect(peakDbfs(square)).toBe(0);
});

test('half the amplitude reads 6.0206 dB less', () => {
  expect(rmsDbfs(sine(0.5)) - rmsDbfs(sine(1))).toBeCloseTo(-20 * Math.log10(2), 6);
  expect(peakDbfs(sine(0.5))).toBeCloseTo(-20 * Math.log10(2), 6);
});

test('the peak of a negative excursion counts', () => {
  expect(peak(Float32Array.of(0.1, -0.75, 0.5))).toBe(0.75);
});

test('empty and silent clips read 0 and −Infinity', () => {
  for (const clip of [new Float32Array(0), new Float32Array(10)]) {
    expect(rms(clip)).toBe(0);
    expect(peak(clip)).toBe(0);
    expect(rmsDbfs(clip)).toBe(Number.NEGATIVE_INFINITY);
    expect(peakDbfs(clip)).toBe(Number.NEGATIVE_INFINITY);
  }
});

test('the greatest 32-bit floats do not overflow', () => {
  expect(rms(Float32Array.of(3e38, -3e38))).toBeCloseTo(Math.fround(3e38), -30);
});

test('NaN, Infinity and other arrays are refused by every meter', () => {
  for (const meter of [rms, rmsDbfs, peak, peakDbfs]) {
    expect(() => meter(Float32Array.of(0, Number.NaN))).toThrow(`${meter.name}: samples[1] must be finite`);
    expect(() => meter(Float32Array.of(Number.NEGATIVE_INFINITY))).toThrow(RangeError);
    expect(() => meter([0] as never)).toThrow(TypeError);
  }
});

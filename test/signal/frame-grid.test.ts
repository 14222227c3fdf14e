import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  createFrameGrid,
  frameCentreSample,
  frameStartSample,
  frameTimeSeconds,
} from '../../src/signal/frame-grid.js';
import type { Doubles, Samples } from '../../src/signal/samples.js';
import { windowedFrameInto } from '../../src/signal/windowed-frame.js';

// The convention is the library's own (frame-grid.ts states it); arithmetic by hand.

const options = { sampleRateHz: 44100, frameSeconds: 0.02, hopSeconds: 0.005 };

test('20 ms frames every 5 ms at 44.1 kHz: 882 samples, hop 221, transform 1024', () => {
  const grid = createFrameGrid(options, 44100);
  expect(grid).toEqual({
    sampleRateHz: 44100,
    frameSamples: 882,
    hopSamples: 221,
    fftSize: 1024,
    firstCentreSample: 0,
    frameCount: 200,
    padding: 'zero',
  });
  expect(Object.isFrozen(grid)).toBe(true);
  expect(frameStartSample(grid, 0)).toBe(-441);
  expect(frameCentreSample(grid, 2)).toBe(442);
  expect(frameTimeSeconds(grid, 2)).toBe(442 / 44100);
});

test('centres begin on sample 0 and the last lies less than a hop before the end', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 2 ** 45 }),
      fc.double({ min: 0.0001, max: 1, noNaN: true }),
      fc.constantFrom(8000, 44100, 48000, 192000),
      (lengthSamples, hopSeconds, sampleRateHz) => {
        const grid = createFrameGrid({ sampleRateHz, frameSeconds: 0.02, hopSeconds }, lengthSamples);
        const last = frameCentreSample(grid, grid.frameCount - 1);
        expect(frameCentreSample(grid, 0)).toBe(0);
        expect(last).toBeLessThan(lengthSamples);
        expect(last + grid.hopSamples).toBeGreaterThanOrEqual(lengthSamples);
      },
    ),
    { seed: 1 },
  );
});

test('the transform is the least power of two that holds the frame', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.00001, max: 2, noNaN: true }), (frameSeconds) => {
      const { frameSamples, fftSize } = createFrameGrid({ ...options, frameSeconds }, 1);
      expect(Math.log2(fftSize) % 1).toBe(0);
      expect(fftSize).toBeGreaterThanOrEqual(frameSamples);
      expect(fftSize / 2).toBeLessThan(frameSamples);
      expect(frameSamples % 2).toBe(0);
      expect(Math.abs(frameSamples - frameSeconds * 44100)).toBeLessThanOrEqual(
        Math.max(1.0001, 2 - frameSeconds * 44100),
      );
    }),
    { seed: 1 },
  );
});

test('no samples, no frames; one sample, one frame', () => {
  expect(createFrameGrid(options, 0).frameCount).toBe(0);
  expect(createFrameGrid(options, 1).frameCount).toBe(1);
});

test('values out of range and of the wrong kind are refused', () => {
  expect(() => createFrameGrid({ ...options, frameSeconds: 0 }, 1)).toThrow(RangeError);
  expect(() => createFrameGrid({ ...options, hopSeconds: -1 }, 1)).toThrow(RangeError);
  expect(() => createFrameGrid({ ...options, hopSeconds: Number.NaN }, 1)).toThrow(
    'hopSeconds must be finite',
  );
  expect(() => createFrameGrid({ ...options, sampleRateHz: 7999 }, 1)).toThrow(RangeError);
  expect(() => createFrameGrid(options, 1.5)).toThrow(RangeError);
  expect(() => createFrameGrid(options, '1' as unknown as number)).toThrow(TypeError);
});

test('a frame is the clip times the window, with zeros wherever either has nothing', () => {
  const samples = Float32Array.of(1, 2, 3, 4);
  const window = Float64Array.of(0.5, 1, 0.25);
  const cut = (start: number) => {
    const frame = new Float64Array(5).fill(9);
    windowedFrameInto(frame, samples, start, window);
    return Array.from(frame);
  };
  expect(cut(0)).toEqual([0.5, 2, 0.75, 0, 0]);
  expect(cut(-2)).toEqual([0, 0, 0.25, 0, 0]);
  expect(cut(3)).toEqual([2, 0, 0, 0, 0]);
  for (const outside of [-3, -100, 4, 1e12]) expect(cut(outside)).toEqual([0, 0, 0, 0, 0]);
});

test('a frame needs room for its window, whole positions and the right arrays', () => {
  const window = new Float64Array(4);
  const samples = new Float32Array(4);
  expect(() => windowedFrameInto(new Float64Array(3), samples, 0, window)).toThrow(RangeError);
  expect(() => windowedFrameInto(new Float64Array(4), samples, 0.5, window)).toThrow(RangeError);
  expect(() => windowedFrameInto(samples as unknown as Doubles, samples, 0, window)).toThrow(TypeError);
  expect(() => windowedFrameInto(window, window as unknown as Samples, 0, window)).toThrow(TypeError);
});

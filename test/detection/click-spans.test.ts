import { describe, expect, it } from 'vitest';
import { clickSpans } from '../../src/detection/click-spans.js';
import type { Samples } from '../../src/signal/samples.js';

const RATE = 48_000;
/** A quarter of a millisecond, two periods of 8 kHz. */
const BLOCK = 12;
const COUNT = 1000;

/** 8 kHz with an amplitude for each block; none where nothing is said. */
function blocks(amplitudes: Readonly<Record<number, number>>, hz = 8000): Samples {
  return Float32Array.from(
    { length: COUNT * BLOCK },
    (_, i) => (amplitudes[Math.floor(i / BLOCK)] ?? 0) * Math.sin((2 * Math.PI * hz * i) / RATE + 0.4),
  );
}
const spans = (samples: Samples | readonly Samples[], rule = {}): number[][] =>
  clickSpans(samples instanceof Float32Array ? [samples] : samples, {
    sampleRateHz: RATE,
    mostSeconds: 0.005,
    aboveDb: 15,
    ...rule,
  }).map(({ startSample, endSample }) => [startSample / BLOCK, endSample / BLOCK]);
const even = (from: number, to: number, amplitude = 0.5): Record<number, number> =>
  Object.fromEntries(Array.from({ length: to - from }, (_, i) => [from + i, amplitude]));

describe('a click', () => {
  it('lasts while it is within 15 dB of its peak, and has a block to spare on both sides', () => {
    // 10 and 6 dB under the peak on either side; what lies 20 dB under it is no part of it. Behind the last block the filter may ring on into one.
    const click = { 399: 0.05, 400: 0.16, 401: 0.5, 402: 0.25 };
    for (const channels of [[blocks(click)], [blocks(click), new Float32Array(COUNT * BLOCK)]]) {
      const [[start, end] = [], ...more] = spans(channels);
      expect([start, more]).toEqual([399, []]);
      expect([404, 405]).toContain(end);
    }
  });

  it('is short', () => {
    // 5 ms are 20 blocks. The filter rings on for less than one.
    expect(spans(blocks(even(400, 416)))).toHaveLength(1);
    expect(spans(blocks(even(400, 424)))).toEqual([]);
    expect(spans(blocks(even(400, 424)), { mostSeconds: 0.01 })).toHaveLength(1);
  });

  it('stands alone within 50 ms, but for its skirts', () => {
    const beside = (at: number, amplitude: number): number =>
      spans(blocks({ 500: 0.5, [at]: amplitude })).length;
    // 10 dB under it, in front of it or behind it: neither is one then. More than 200 blocks away both are.
    expect([450, 550, 310, 690].map((at) => beside(at, 0.16))).toEqual([0, 0, 0, 0]);
    expect([290, 710].map((at) => beside(at, 0.16))).toEqual([2, 2]);
    // What is 20 dB under it may be there. 10 dB under it is too much, but not 3 blocks from it, in its skirt.
    expect([450, 550].map((at) => beside(at, 0.05))).toEqual([1, 1]);
    const isThere = (at: number, amplitude: number): boolean =>
      spans(blocks({ 500: 0.5, [at]: amplitude })).some(([from = 0, to = 0]) => from <= 500 && to > 500);
    expect([497, 503].map((at) => isThere(at, 0.16))).toEqual([true, true]);
    expect([480, 520].map((at) => isThere(at, 0.16))).toEqual([false, false]);
  });

  it('lies above 2 kHz for the most part', () => {
    expect(spans(blocks(even(400, 408), 500))).toEqual([]);
    expect(spans(blocks(even(400, 408), 8000))).toHaveLength(1);
  });

  it('is told by its greatest block, and by how far that stands above all beside it', () => {
    const [click] = clickSpans([blocks({ 300: 0.05, 500: 0.5 })], {
      sampleRateHz: RATE,
      mostSeconds: 0.005,
      aboveDb: 15,
    });
    // An eighth of full scale is the mean square of a sine of 0.5; the edges of a single block leave it within 1 dB.
    expect(Math.abs(10 * Math.log10(click!.peakPower / 0.125))).toBeLessThan(1);
    expect(Math.abs(click!.aboveDb - 20)).toBeLessThan(1e-3);
  });
});

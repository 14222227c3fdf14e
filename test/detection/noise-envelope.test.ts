import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createNoiseEnvelope } from '../../src/detection/noise-envelope.js';
import { createRowStore } from '../../src/detection/row-store.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { mulberry32 } from '../lib/random.js';

function envelopeOf(blocks: readonly (readonly Samples[])[], sampleRateHz: number): number[] {
  const rows = createRowStore(1);
  const envelope = createNoiseEnvelope(sampleRateHz, blocks[0]!.length);
  for (const block of blocks) envelope.push(block, rows);
  envelope.flush(rows);
  return [...rows.data.subarray(rows.at(0), rows.at(rows.end))];
}

function tone(frequencyHz: number, sampleRateHz: number, seconds: number, amplitude = 0.5): Samples {
  return Float32Array.from(
    { length: Math.round(seconds * sampleRateHz) },
    (_, i) => amplitude * Math.sin((2 * Math.PI * frequencyHz * i) / sampleRateHz),
  );
}

/** Power gain of a second-order Butterworth high-pass made by the bilinear transform (Oppenheim and Schafer, from memory). */
function butterworthPower(frequencyHz: number, cornerHz: number, sampleRateHz: number): number {
  const warp = (f: number): number => Math.tan((Math.PI * f) / sampleRateHz);
  return 1 / (1 + (warp(cornerHz) / warp(frequencyHz)) ** 4);
}

describe('the noise envelope', () => {
  it('is the power of a sine through a 3.5 kHz high-pass, block by block', () => {
    // Whole periods in every block of 1 ms, so the mean square is exact but for 32-bit rounding; the first 10 ms let the filter settle.
    for (const rate of [16_000, 48_000, 96_000, 192_000])
      for (const frequencyHz of [1000, 3000, 5000, 7000]) {
        const expected = 0.125 * butterworthPower(frequencyHz, 3500, rate);
        for (const power of envelopeOf([[tone(frequencyHz, rate, 0.05)]], rate).slice(10))
          expect(Math.abs(power / expected - 1), `${frequencyHz} Hz at ${rate} Hz`).toBeLessThan(1e-5);
      }
  });

  it('moves its corner down to 0.3 of a low sample rate', () => {
    const expected = 0.125 * butterworthPower(3000, 2400, 8000);
    for (const power of envelopeOf([[tone(3000, 8000, 0.05)]], 8000).slice(10))
      expect(Math.abs(power / expected - 1)).toBeLessThan(1e-5);
  });

  it('has blocks of about a millisecond, the last as short as it must be', () => {
    for (const [rate, block] of [
      [8000, 8],
      [11_025, 11],
      [44_100, 44],
      [48_000, 48],
      [192_000, 192],
    ] as const) {
      expect(createNoiseEnvelope(rate, 1).blockSamples).toBe(block);
      expect(envelopeOf([[new Float32Array(3 * block + 1)]], rate).length).toBe(4);
    }
    // A burst in the last, short block is averaged over that block alone.
    const samples = new Float32Array(48 + 2);
    samples[48] = 1;
    samples[49] = -1;
    const [first, last] = envelopeOf([[samples]], 48_000);
    expect(first).toBe(0);
    expect(last).toBeGreaterThan(0.3);
  });

  it('averages the powers of channels', () => {
    const a = tone(7000, 48_000, 0.03);
    const alone = envelopeOf([[a]], 48_000);
    expect(envelopeOf([[a, a.map((x) => -x)]], 48_000)).toEqual(alone);
    envelopeOf([[a, new Float32Array(a.length)]], 48_000).forEach((power, i) => {
      expect(power).toBeCloseTo(alone[i]! / 2, 15);
    });
  });

  it('gives the same rows however the stream is cut, bit for bit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(8000, 44_100, 48_000),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 1, max: 3000 }),
        fc.array(fc.oneof(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 1000 })), {
          minLength: 1,
          maxLength: 12,
        }),
        (rate, channelCount, length, cuts) => {
          const uniform = mulberry32(length);
          const channels = Array.from({ length: channelCount }, () =>
            Float32Array.from({ length }, () => uniform() - 0.5),
          );
          expect(envelopeOf(blocksOf(channels, cuts), rate)).toEqual(envelopeOf([channels], rate));
        },
      ),
      { numRuns: 60 },
    );
  });
});

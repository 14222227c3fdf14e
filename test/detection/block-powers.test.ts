import { describe, expect, it } from 'vitest';
import { createBlockPowers } from '../../src/detection/block-powers.js';
import { highPass } from '../../src/signal/biquad-design.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';

const filter = highPass({ sampleRateHz: 48_000, frequencyHz: 3500 });

/** The difference equation of a second-order section, sample by sample. */
function filtered(samples: Samples): Float64Array {
  const out = new Float64Array(samples.length);
  const x = (n: number): number => samples[n] ?? 0;
  const y = (n: number): number => out[n] ?? 0;
  const { b0, b1, b2, a1, a2 } = filter;
  for (let n = 0; n < out.length; n++)
    out[n] = b0 * x(n) + b1 * x(n - 1) + b2 * x(n - 2) - a1 * y(n - 1) - a2 * y(n - 2);
  return out;
}
const sumOfSquares = (values: Float64Array): number => values.reduce((sum, x) => sum + x * x, 0);

describe('powers of blocks', () => {
  it.each([1, 2, 7, 48, 49])(
    'of %i samples are sums of squares behind the filter, from rest',
    (blockSamples) => {
      const samples = whiteNoise(1, 8 * blockSamples + 5);
      const expected = filtered(samples);
      const powers = createBlockPowers(filter, 1);
      const out = new Float64Array(10).fill(3);
      // Three blocks from sample 0 on and five after them, which go on from there; added to what is there.
      powers.add(out, 1, samples, 0, blockSamples, 3, 0);
      powers.add(out, 4, samples, 3 * blockSamples, blockSamples, 5, 0);
      expect([out[0], out[9]]).toEqual([3, 3]);
      for (let b = 0; b < 8; b++) {
        const own = sumOfSquares(expected.subarray(b * blockSamples, (b + 1) * blockSamples));
        // Two samples at a time are the same but for rounding: 1e-16 of each of at most 392 numbers under 1.
        expect(Math.abs((out[b + 1] as number) - 3 - own)).toBeLessThan(1e-12);
      }
    },
  );

  it('of each channel go on from that channel', () => {
    const [first, second] = [whiteNoise(2, 60), whiteNoise(3, 60)];
    const powers = createBlockPowers(filter, 2);
    const out = new Float64Array(3);
    for (let b = 0; b < 3; b++)
      for (const [c, samples] of [first, second].entries()) powers.add(out, b, samples, 20 * b, 20, 1, c);
    for (let b = 0; b < 3; b++) {
      const own = [first, second].map((samples) =>
        sumOfSquares(filtered(samples).subarray(20 * b, 20 * b + 20)),
      );
      expect(Math.abs(out[b]! - own[0]! - own[1]!)).toBeLessThan(1e-12);
    }
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createBlockPowers } from '../../src/detection/block-powers.js';
import { highPass } from '../../src/signal/biquad-design.js';
import type { BlockPowers } from '../../src/signal/engine.js';
import type { Samples } from '../../src/signal/samples.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import { mulberry32 } from '../lib/random.js';

const engine = simdEngine();

function sumsOf(
  powers: BlockPowers,
  channels: readonly Samples[],
  blockSamples: number,
  blockCount: number,
): number[] {
  const out = new Float64Array(blockCount + 3).fill(0.25);
  for (const [c, samples] of channels.entries()) {
    // In two goes, so that what is remembered counts.
    const first = Math.floor(blockCount / 2);
    powers.add(out, 1, samples, 2, blockSamples, first, c);
    powers.add(out, 1 + first, samples, 2 + first * blockSamples, blockSamples, blockCount - first, c);
  }
  return [...out];
}

describe('the power of blocks in the kernels', () => {
  it('gives, bit for bit, what the same sums in JavaScript give, for blocks of any length and number', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.oneof(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 300 })),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 8000, max: 192_000 }),
        fc.nat(),
        (blockSamples, blockCount, channelCount, sampleRateHz, seed) => {
          const filter = highPass({ sampleRateHz, frequencyHz: Math.min(3500, 0.3 * sampleRateHz) });
          const uniform = mulberry32(seed);
          // Silence from somewhere on: the filter's memory must come to rest alike.
          const length = blockSamples * blockCount + 4;
          const rest = Math.floor(uniform() * 2 * length);
          const channels = Array.from({ length: channelCount }, () =>
            Float32Array.from({ length }, (_, i) => (i < rest ? uniform() - 0.5 : 0)),
          );
          expect(
            sumsOf(engine.createBlockPowers(filter, channelCount), channels, blockSamples, blockCount),
          ).toEqual(sumsOf(createBlockPowers(filter, channelCount), channels, blockSamples, blockCount));
        },
      ),
      { numRuns: 150 },
    );
  });
});

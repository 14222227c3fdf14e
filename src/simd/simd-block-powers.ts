import { LEAST_STATE, STATE_COUNT } from '../detection/block-powers.js';
import type { BiquadCoefficients } from '../signal/biquad-design.js';
import type { BlockPowers } from '../signal/engine.js';
import { createAllocator, type KernelArea } from './kernel-memory.js';

/** Samples that are handed to the kernel at a time, and the most blocks that they may make. */
const MOST_SAMPLES = 8192;
const MOST_BLOCKS = 1024;
const NUMBERS = 5 + STATE_COUNT;

/** Doubles of the area: samples, sums, coefficients with a state; and slack. */
export const BLOCK_AREA_DOUBLES: number = MOST_SAMPLES / 2 + MOST_BLOCKS + 32;

/** `createBlockPowers` in the kernels, two samples to a vector. */
export function createSimdBlockPowers(
  area: KernelArea,
  { b0, b1, b2, a1, a2 }: BiquadCoefficients,
  channelCount: number,
): BlockPowers {
  const allocate = createAllocator(area);
  const sums = allocate(MOST_BLOCKS);
  const numbers = allocate(NUMBERS);
  const taken = allocate(MOST_SAMPLES / 2).byteOffset;
  const takenAt = (taken - area.start) / 4;
  // Coefficients and state of each channel: what the kernel reads and writes beside the samples.
  const channels = Array.from({ length: channelCount }, () =>
    Float64Array.of(b0, b1, b2, a1, a2, ...new Float64Array(STATE_COUNT)),
  );

  return {
    add(out, at, samples, from, blockSamples, blockCount, channel) {
      const own = channels[channel] as Float64Array;
      const most = Math.min(MOST_BLOCKS, Math.floor(MOST_SAMPLES / blockSamples));
      numbers.set(own);
      for (let block = 0; block < blockCount; block += most) {
        const count = Math.min(most, blockCount - block);
        const start = from + block * blockSamples;
        area.floats.set(samples.subarray(start, start + count * blockSamples), takenAt);
        for (let i = 0; i < count; i++) sums[i] = out[at + block + i] as number;
        area.kernels.blockPowers(
          taken,
          blockSamples,
          count,
          numbers.byteOffset,
          sums.byteOffset,
          LEAST_STATE,
        );
        for (let i = 0; i < count; i++) out[at + block + i] = sums[i] as number;
      }
      own.set(numbers);
    },
  };
}

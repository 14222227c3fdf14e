import type { Samples } from '../../src/signal/samples.js';

/** Cuts channels into blocks of the given lengths, over and over until they are used up; a length of 0 gives an empty block. */
export function blocksOf(channels: readonly Samples[], lengths: readonly number[]): readonly Samples[][] {
  const total = channels[0]!.length;
  const blocks: Samples[][] = [];
  for (let from = 0, k = 0; from < total; k++) {
    // Lengths of 0 alone would never end.
    const length = k < lengths.length ? lengths[k]! : Math.max(1, lengths[k % lengths.length]!);
    blocks.push(channels.map((samples) => samples.subarray(from, from + length) as Samples));
    from += length;
  }
  return blocks;
}

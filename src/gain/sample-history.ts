import type { Samples } from '../signal/samples.js';

/** The latest samples of a stream, by their position in the clip. */
export interface SampleHistory {
  /** One past the last sample. */
  readonly endSample: number;
  /** One channel's sample; the position must be among those kept. */
  at(channel: number, sample: number): number;
  /** Copies samples from `startSample` on into `out`. */
  copyInto(out: Samples, channel: number, startSample: number): void;
  /** Adds a block at the end; samples before `keepFromSample` may be forgotten. */
  append(block: readonly Samples[], keepFromSample: number): void;
}

/** An empty history that begins at a position. Memory stays within about twice what is kept and one block. */
export function createSampleHistory(channelCount: number, startSample: number): SampleHistory {
  let channels: readonly Samples[] = Array.from({ length: channelCount }, () => new Float32Array(0));
  let start = startSample;
  let end = startSample;

  function makeRoom(length: number, keepFromSample: number): void {
    const capacity = (channels[0] as Samples).length;
    if (end - start + length <= capacity) return;
    const from = Math.min(Math.max(keepFromSample, start), end);
    const needed = 2 * (end - from + length);
    channels = channels.map((channel) => {
      // Twice the need, so that the kept samples move rarely, whatever the size of the blocks.
      const target = needed > capacity ? new Float32Array(needed) : channel;
      target.set(channel.subarray(from - start, end - start));
      return target;
    });
    start = from;
  }

  return {
    get endSample(): number {
      return end;
    },
    at: (channel, sample) => (channels[channel] as Samples)[sample - start] as number,
    copyInto(out: Samples, channel: number, startSample: number): void {
      const from = startSample - start;
      out.set((channels[channel] as Samples).subarray(from, from + out.length));
    },
    append(block: readonly Samples[], keepFromSample: number): void {
      const { length } = block[0] as Samples;
      makeRoom(length, keepFromSample);
      block.forEach((samples, c) => {
        (channels[c] as Samples).set(samples, end - start);
      });
      end += length;
    },
  };
}

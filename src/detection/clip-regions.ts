import type { Region } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import type { DetectionSettings } from './detection-options.js';
import { createRegionStream } from './region-stream.js';

/** Samples handed on at a time: what the stages pass to each other then stays in the processor's caches. */
export const BLOCK_SAMPLES: number = 1 << 14;
/** Events are decided so many blocks at a time, for the same reason: each rests on much that the frames do not use. */
const BLOCKS_A_DECISION = 8;

/** The regions of a whole clip, for callers that have checked what they hand in: a stream from its first sample to its last. */
export function clipRegions(channels: readonly Samples[], settings: DetectionSettings): readonly Region[] {
  const lengthSamples = (channels[0] as Samples).length;
  const stream = createRegionStream(settings, channels.length);
  const regions: Region[] = [];
  // At least one block: the last one ends the stream.
  for (let n = 1; ; n++) {
    const to = n * BLOCK_SAMPLES;
    const ended = to >= lengthSamples;
    const block = channels.map((samples) => samples.subarray(to - BLOCK_SAMPLES, to) as Samples);
    regions.push(...stream.take(block, ended, !ended && n % BLOCKS_A_DECISION > 0));
    if (ended) return regions;
  }
}

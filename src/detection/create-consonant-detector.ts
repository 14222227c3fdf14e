import type { Region } from '../regions/region.js';
import { channelList, checkFinite, rangeError } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { type DetectionOptions, detectionSettings } from './detection-options.js';
import { createRegionStream, type RegionStream } from './region-stream.js';

/** A detector that takes a recording piece by piece. */
export interface ConsonantDetector {
  /**
   * Takes the next samples (one channel, or all channels in equal lengths) and gives the regions that are now
   * certain, in order of time. The first call settles the number of channels.
   */
  push(block: Channels): readonly Region[];
  /** Ends the recording and gives the remaining regions. The detector is spent afterwards. */
  flush(): readonly Region[];
  /** Length of what was pushed, in samples. */
  readonly lengthSamples: number;
}

/**
 * A region is given at the latest this long after its start was pushed, in seconds, so a player that is so late can still apply it; the state is
 * bounded likewise. Noise that never ends
 * is cut at 4 s, references look 1.9 s and a slot of 85 ms ahead, frames are classified 1.4 s at a time, and a classifier may ask for 2.1 s of context.
 */
export const DETECTION_LATENCY_SECONDS = 10;

/**
 * The streaming twin of `detectConsonants`: the same regions for the same samples, however they are cut into blocks.
 *
 * Memory is bounded: about 12 s of frame tables (level references look back 6.0 s and ahead 1.9 s), whatever the
 * length. A region comes once the references, the classifier's context and the end of its noise are known: at most
 * DETECTION_LATENCY_SECONDS after its start. Positions count from the first sample pushed.
 *
 * @param options as for `detectConsonants`
 * @throws RangeError or TypeError as `detectConsonants`; also where the number of channels changes or after `flush`.
 * What a classifier of yours throws is thrown again by every call that follows
 *
 * @example
 * import { createConsonantDetector } from 'lenition/detection';
 * const detector = createConsonantDetector({ sampleRateHz: 48000 });
 * detector.push(new Float32Array(48000)); // => []
 * detector.flush(); // => []
 * detector.lengthSamples; // => 48000
 */
export function createConsonantDetector(options: DetectionOptions): ConsonantDetector {
  const settings = detectionSettings('createConsonantDetector', options);
  let stream: RegionStream | undefined;
  let channelCount = 0;
  let ended = false;
  let failure: { readonly error: unknown } | undefined;

  return {
    push,
    flush,
    get lengthSamples() {
      return stream?.lengthSamples ?? 0;
    },
  };

  function push(block: Channels): readonly Region[] {
    const channels = channelList('push', block, 'block');
    if (ended) throw rangeError('push', 'block', 'must not come after flush', block);
    if (stream !== undefined && channels.length !== channelCount)
      throw rangeError('push', 'block', `must have ${channelCount} channel(s), as before`, channels.length);
    for (let c = 0; c < channels.length; c++) checkFinite('push', `block[${c}]`, channels[c] as Samples);
    channelCount = channels.length;
    stream ??= createRegionStream(settings, channelCount);
    return take(channels);
  }

  function flush(): readonly Region[] {
    if (ended && failure === undefined) return [];
    ended = true;
    return take(Array.from({ length: channelCount }, () => new Float32Array(0)));
  }

  /** A classifier of the caller's may throw in the middle of the work; what is left of that is no stream any more, and is not read. */
  function take(channels: readonly Samples[]): readonly Region[] {
    if (failure === undefined)
      try {
        return stream?.take(channels, ended) ?? [];
      } catch (error) {
        failure = { error };
      }
    throw failure.error;
  }
}

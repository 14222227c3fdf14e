import { createConsonantDetector } from '../../../src/detection/create-consonant-detector.js';
import type { DetectionOptions } from '../../../src/detection/detection-options.js';
import { createRegionList } from '../../../src/regions/create-region-list.js';
import { insertRegions } from '../../../src/regions/insert-regions.js';
import type { Region, RegionList } from '../../../src/regions/region.js';
import type { Samples } from '../../../src/signal/samples.js';

/** A search that is under way. */
export interface Finding {
  /** Ends it; what was found so far is its result. */
  stop(): void;
  readonly result: Promise<{ readonly list: RegionList; readonly stopped: boolean }>;
}

/** Samples between two looks at the messages: some 20 ms of work. */
const BLOCK_SAMPLES = 1 << 17;

/**
 * Searches a take piece by piece, so that a worker hears in between that it shall stop. The regions are those of
 * `detectConsonants`.
 *
 * @param progress hears after each piece how much is done, 0 to 1
 */
export function findInSteps(
  channels: readonly Samples[],
  options: DetectionOptions,
  progress: (part: number) => void,
): Finding {
  let stopped = false;
  const lengthSamples = channels[0]?.length ?? 0;

  async function run(): Promise<{ list: RegionList; stopped: boolean }> {
    const detector = createConsonantDetector(options);
    const regions: Region[] = [];
    for (let from = 0; from < lengthSamples && !stopped; from += BLOCK_SAMPLES) {
      const block = channels.map((channel) => channel.subarray(from, from + BLOCK_SAMPLES));
      regions.push(...detector.push(block));
      progress(Math.min(1, (from + BLOCK_SAMPLES) / lengthSamples));
      await messagesHeard();
    }
    regions.push(...detector.flush());
    const empty = createRegionList({ sampleRateHz: options.sampleRateHz, lengthSamples });
    return { list: insertRegions(empty, regions), stopped };
  }

  return {
    stop(): void {
      stopped = true;
    },
    result: run(),
  };
}

/** Lets waiting messages in. A timer would be held back to 4 ms each time; a message of one's own is not. */
function messagesHeard(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    // Its type is the page's or, in the tests, that of Node, which does not know of the handler.
    Object.assign(port1, {
      onmessage: () => {
        port1.close();
        resolve();
      },
    });
    port2.postMessage(null);
  });
}

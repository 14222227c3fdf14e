import {
  createConsonantDetector,
  DETECTION_LATENCY_SECONDS,
} from '../../src/detection/create-consonant-detector.js';
import type { DetectionOptions } from '../../src/detection/detection-options.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { renderGainBlockInto } from '../../src/gain/render-gain-block.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';

/** A recording goes in block by block and comes out tamed, later by `delaySamples`. */
export interface StreamTamer {
  readonly delaySamples: number;
  /** The most audio and the most regions that were held at once. */
  readonly most: { readonly bytes: number; readonly regions: number };
  /** Takes the next block, one array a channel, and gives what is now ready: nothing at first. */
  push(block: readonly Samples[]): readonly Samples[];
  /** Ends the recording and gives the rest. */
  flush(): readonly Samples[];
}

/** Farther than an edge looks, fades and its neighbour's edge reach together: some 0.15 s. */
const REACH_SECONDS = 0.25;
/** Audio kept behind what went out: a region may still sound whose start went out before. The detector cuts noise at 4 s. */
const BEHIND_SECONDS = 5;

/**
 * Finds, places, cuts and renders a recording of any length in constant memory. The result is that of the whole clip, to
 * the bit: `decide` must judge each region by itself (a fixed cut does; what compares a region with its take does not).
 */
export function createStreamTamer(options: {
  readonly sampleRateHz: number;
  readonly channelCount: number;
  readonly decide: (list: RegionList) => RegionList;
  /** How the detector is set; its defaults where left out. */
  readonly detection?: Omit<DetectionOptions, 'sampleRateHz'>;
}): StreamTamer {
  const { sampleRateHz, channelCount, decide } = options;
  const detector = createConsonantDetector({ ...options.detection, sampleRateHz });
  const reach = Math.ceil(REACH_SECONDS * sampleRateHz);
  const behind = BEHIND_SECONDS * sampleRateHz;
  const delaySamples = DETECTION_LATENCY_SECONDS * sampleRateHz + reach;
  /** The delay line: `held` samples a channel, from `lineStart` of the recording on. */
  let line = Array.from({ length: channelCount }, () => new Float32Array(behind + delaySamples));
  let lineStart = 0;
  let held = 0;
  let rendered = 0;
  let regions: Region[] = [];
  let mostRegions = 0;

  return {
    delaySamples,
    get most() {
      return { bytes: channelCount * (line[0] as Samples).byteLength, regions: mostRegions };
    },
    push(block) {
      append(block);
      learn(detector.push(block));
      return render(detector.lengthSamples - delaySamples);
    },
    flush() {
      learn(detector.flush());
      return render(detector.lengthSamples);
    },
  };

  function append(block: readonly Samples[]): void {
    const length = (block[0] as Samples).length;
    const capacity = (line[0] as Samples).length;
    if (held + length > capacity) {
      forget(rendered - behind);
      if (held + length > capacity) {
        line = line.map((channel) => {
          // A second more than is needed, so that blocks of one size grow it once.
          const longer = new Float32Array(held + length + sampleRateHz);
          longer.set(channel.subarray(0, held));
          return longer;
        });
      }
    }
    for (const [c, channel] of line.entries()) channel.set(block[c] as Samples, held);
    held += length;
  }

  function forget(before: number): void {
    const gone = before - lineStart;
    if (gone <= 0) return;
    for (const channel of line) channel.copyWithin(0, gone, held);
    held -= gone;
    lineStart = before;
    regions = regions.filter(({ endSample }) => endSample > before);
  }

  function learn(found: readonly Region[]): void {
    for (const { startSample } of found)
      if (Math.max(0, startSample - reach) < rendered)
        throw new Error(`a region at sample ${startSample} came too late`);
    regions.push(...found);
    mostRegions = Math.max(mostRegions, regions.length);
  }

  function render(upTo: number): readonly Samples[] {
    const from = rendered - lineStart;
    const to = Math.max(from, upTo - lineStart);
    const out = line.map((channel) => channel.slice(from, to));
    renderGainBlockInto(out, out, listAround(from, to), { startSample: from });
    rendered = lineStart + to;
    return out;
  }

  /** The regions near a stretch of the line, placed and decided, in the line's own positions. */
  function listAround(from: number, to: number): RegionList {
    // Edges are placed by the level of the whole noise, so all of it must still be there.
    const cut = regions.find((r) => r.startSample < lineStart && r.endSample > lineStart + from);
    if (cut !== undefined) throw new Error(`a region at sample ${cut.startSample} is too long`);
    const near = regions
      .map(moveIntoLine)
      .filter(({ startSample, endSample }) => endSample + reach > from && startSample - reach < to);
    const clip = createRegionList({ sampleRateHz, lengthSamples: held });
    const audio = line.map((channel) => channel.subarray(0, held));
    return decide(placeEdges(insertRegions(clip, near), audio));
  }

  /** A region of the recording as one of the line; what began before the line begins with it. */
  function moveIntoLine(region: Region): Region {
    const move = (sample: number): number => Math.max(0, sample - lineStart);
    return {
      ...region,
      startSample: move(region.startSample),
      endSample: move(region.endSample),
      onsetSample: move(region.onsetSample as number),
      offsetSample: move(region.offsetSample as number),
    };
  }
}

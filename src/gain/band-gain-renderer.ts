import { assertRegionList } from '../regions/check-region-list.js';
import { firstEndingAfter } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { channelList, checkFinite, checkInteger, checkObject, rangeError } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { filteredSpan, renderedStretch } from './apply-band-gain.js';
import { applyGain, copyChannels, nameOf } from './apply-gain.js';
import { type BandBlock, bandBlock, hasBandGain, mostReach } from './band-block.js';
import { createBandChange } from './band-change.js';
import { createSampleHistory, type SampleHistory } from './sample-history.js';

/** Renders a clip block after block, gain on bands included, a fixed number of samples late. */
export interface BandGainRenderer {
  /** How much later a sample comes out than it goes in; 0 for a list without gain on a band. */
  readonly latencySamples: number;
  /** Position in the clip of the next block's first sample. */
  readonly positionSample: number;
  /**
   * Takes the next block and fills `out` (which may be the block itself) with the rendered samples from
   * `positionSample − latencySamples` on; silence for what lies before the first block.
   */
  pushInto(out: Channels, block: Channels): void;
  /** Forgets what came before; the next block begins at this position in the clip, 0 or more. */
  seek(sample: number): void;
}

/**
 * A renderer for audio that arrives in blocks and a list with gain on bands: the same bits as renderGain, however the
 * clip is cut into blocks, `latencySamples` late. Push that many samples more (of anything) to get the end.
 *
 * A filter needs samples before and after those it changes. Latency is the most that any region of the list takes: its
 * length, or that of the blocks it is filtered in where it is long, and half the kernel. A cut above 4 kHz in 100 ms takes
 * 39 ms at 48 kHz, one below 150 Hz 164 ms. After a seek, what lies before counts as silence, so a region there has the
 * bits of renderGain only from `latencySamples` after the seek on; seek earlier by that much where it matters.
 *
 * @param list - The regions of the clip. For an edited list make a new renderer.
 * @param options - `startSample`: where the first block lies; 0 if left out.
 * @throws Where the list breaks a rule of checkRegionList. `pushInto`: RangeError for shapes that differ, another number
 *   of channels than in the block before, or NaN or infinity in a sample that a region touches or its filter reads;
 *   TypeError for audio that is not a Float32Array. A block that is refused does not move the position.
 *
 * @example
 * import { createBandGainRenderer } from 'lenition/gain';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const band = { lowHz: 4000, highHz: 24000 };
 * const list = insertRegion(clip, { startSample: 4800, endSample: 5300, gainDb: -6, band });
 * const renderer = createBandGainRenderer(list);
 * renderer.latencySamples; // => 653
 * const block = new Float32Array(128);
 * renderer.pushInto(block, block);
 * renderer.positionSample; // => 128
 */
export function createBandGainRenderer(
  list: RegionList,
  options: { readonly startSample?: number } = {},
): BandGainRenderer {
  assertRegionList('createBandGainRenderer', list);
  checkObject('createBandGainRenderer', 'options', options);
  let position = options.startSample ?? 0;
  checkInteger('createBandGainRenderer', 'startSample', position, 0);
  const latencySamples = mostReach(list);
  const change = createBandChange(list);
  let knownFrom = position;
  let history: SampleHistory | undefined;
  let channelCount = 0;
  let latest: { readonly block: BandBlock; readonly channels: readonly Samples[] } | undefined;

  return Object.freeze({
    latencySamples,
    get positionSample(): number {
      return position;
    },
    pushInto(out: Channels, block: Channels): void {
      const input = channelList('pushInto', block, 'block');
      if (history !== undefined && input.length !== channelCount)
        throw rangeError('pushInto', 'block.length', `must stay ${channelCount} channels`, input.length);
      const target = copyChannels('pushInto', out, input);
      checkTouched(input, list, position, latencySamples);
      channelCount = input.length;
      history ??= createSampleHistory(channelCount, position);
      history.append(input, position - 2 * latencySamples);
      const from = position - latencySamples;
      position = history.endSample;
      // What lies before the first block is silence.
      const silent = Math.min(Math.max(knownFrom - from, 0), (target[0] as Samples).length);
      for (const channel of target) channel.fill(0, 0, silent);
      render(
        target.map((channel) => channel.subarray(silent)),
        from + silent,
        history,
      );
    },
    seek(sample: number): void {
      checkInteger('seek', 'sample', sample, 0);
      position = sample;
      knownFrom = sample;
      history = undefined;
      latest = undefined;
    },
  });

  function render(out: readonly Samples[], startSample: number, past: SampleHistory): void {
    const endSample = startSample + (out[0] as Samples).length;
    out.forEach((channel, c) => {
      past.copyInto(channel, c, startSample);
    });
    applyGain('pushInto', out, list, startSample);
    const { regions } = list;
    for (let index = firstEndingAfter(regions, startSample); index < regions.length; index++) {
      const region = regions[index] as Region;
      if (region.startSample >= endSample) break;
      if (!hasBandGain(region)) continue;
      let at = Math.max(region.startSample, startSample);
      const end = Math.min(region.endSample, endSample);
      while (at < end) {
        const { block, channels } = renderedBlock(region, at, past);
        const to = Math.min(block.endSample, end);
        for (let c = 0; c < out.length; c++) {
          const samples = channels[c] as Samples;
          (out[c] as Samples).set(
            samples.subarray(at - block.startSample, to - block.startSample),
            at - startSample,
          );
        }
        at = to;
      }
    }
  }

  /** The block that holds a sample; blocks are mostly longer than what is pushed, so the latest one is kept. */
  function renderedBlock(region: Region, sample: number, past: SampleHistory): NonNullable<typeof latest> {
    if (latest !== undefined && sample >= latest.block.startSample && sample < latest.block.endSample)
      return latest;
    const block = bandBlock(region, sample, list.sampleRateHz);
    const channels = Array.from({ length: channelCount }, (_, c) =>
      renderedStretch(change, block.startSample, block.endSample, (at) =>
        at < knownFrom ? 0 : past.at(c, at),
      ),
    );
    latest = { block, channels };
    return latest;
  }
}

/** Checks the samples of a block that a region touches or a filter reads; no filter reaches farther than `reachSamples`. */
function checkTouched(
  channels: readonly Samples[],
  list: RegionList,
  blockStart: number,
  reachSamples: number,
): void {
  const blockEnd = blockStart + (channels[0] as Samples).length;
  const { regions } = list;
  for (let index = firstEndingAfter(regions, blockStart - reachSamples); index < regions.length; index++) {
    const region = regions[index] as Region;
    if (region.startSample - reachSamples >= blockEnd) break;
    if (region.bypassed || region.gainDb === 0) continue;
    const { start, end } = filteredSpan(region, list);
    const from = Math.max(start, blockStart) - blockStart;
    const to = Math.min(end, blockEnd) - blockStart;
    channels.forEach((channel, c) => {
      checkFinite('pushInto', nameOf(channels, c), channel, from, to);
    });
  }
}

import { checkListShape } from '../regions/check-list-shape.js';
import { assertRegionList } from '../regions/check-region-list.js';
import { firstEndingAfter } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { channelList, checkInteger, checkObject, rangeError } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { applyGain, copyChannels } from './apply-gain.js';
import { hasBandGain } from './band-block.js';

/**
 * Renders one block of a clip: the same bits as that stretch of renderGain, however the clip is cut into blocks and in
 * whatever order they come. The first region of the block is found by binary search, so a seek costs nothing.
 *
 * A gain on a band alone needs the samples after the block, so a block with such a region is refused: see
 * createBandGainRenderer.
 *
 * `out` may be the block itself (in place); otherwise an output channel must not share memory with another channel.
 *
 * @param out - One channel or several, as many and as long as the block's.
 * @param block - One channel, or several of equal length; any length, 0 included. What lies past the end of the clip
 *   passes as it is, so the last block of a fixed size may overhang.
 * @param list - The regions of the clip; taken as sound (checkRegionList), since this runs for every block.
 * @param options - `startSample`: position of the block's first sample in the clip, in samples, 0 or more.
 * @throws RangeError for shapes that differ, a bad position, a region with a band in the block (unless bypassed or at 0
 *   dB), or NaN or infinity in a sample that a region touches
 *   (with its index in the block); TypeError for audio that is not a Float32Array.
 *
 * @example
 * import { renderGainBlockInto } from 'lenition/gain';
 * const list = { sampleRateHz: 48000, lengthSamples: 256, nextId: 1, regions: [] };
 * const block = new Float32Array(128).fill(0.25);
 * renderGainBlockInto(block, block, list, { startSample: 128 });
 * block[127]; // => 0.25
 */
export function renderGainBlockInto(
  out: Channels,
  block: Channels,
  list: RegionList,
  options: { readonly startSample: number },
): void {
  checkListShape('renderGainBlockInto', list);
  checkObject('renderGainBlockInto', 'options', options);
  checkInteger('renderGainBlockInto', 'startSample', options.startSample, 0);
  const input = channelList('renderGainBlockInto', block, 'block');
  refuseBands('renderGainBlockInto', list, options.startSample, (input[0] as Samples).length);
  renderBlock('renderGainBlockInto', out, input, list, options.startSample);
}

function renderBlock(
  functionName: string,
  out: Channels,
  input: readonly Samples[],
  list: RegionList,
  startSample: number,
): void {
  applyGain(functionName, copyChannels(functionName, out, input), list, startSample);
}

function refuseBands(functionName: string, list: RegionList, startSample: number, length: number): void {
  const { regions } = list;
  for (let index = firstEndingAfter(regions, startSample); index < regions.length; index++) {
    const region = regions[index] as Region;
    if (region.startSample >= startSample + length) return;
    if (!hasBandGain(region)) continue;
    const rule = 'must not have a band: a filter needs samples after the block (see createBandGainRenderer)';
    throw rangeError(functionName, `list.regions[${index}]`, rule, region.band);
  }
}

/** Renders a clip block after block; holds a position and nothing else. */
export interface GainRenderer {
  /** Position in the clip of the next block's first sample. */
  readonly positionSample: number;
  /** Renders the next block into `out` (which may be the block itself) and moves on by its length. */
  pushInto(out: Channels, block: Channels): void;
  /** Moves to a position in the clip, in samples, 0 or more. */
  seek(sample: number): void;
}

/**
 * A renderer for audio that arrives in blocks, for an audio callback: no latency, the same bits as renderGain. For a
 * list with gain on bands, which takes latency, there is createBandGainRenderer.
 *
 * @param list - The regions of the clip. For an edited list make a new renderer at the old one's position.
 * @param options - `startSample`: where the first block lies; 0 if left out.
 * @throws As renderGainBlockInto, and where the list breaks a rule of checkRegionList or has a region with a band that is
 *   heard; a block that is refused does not move the position.
 *
 * @example
 * import { createGainRenderer } from 'lenition/gain';
 * const list = { sampleRateHz: 48000, lengthSamples: 256, nextId: 1, regions: [] };
 * const renderer = createGainRenderer(list);
 * const block = new Float32Array(128);
 * renderer.pushInto(block, block);
 * renderer.positionSample; // => 128
 */
export function createGainRenderer(
  list: RegionList,
  options: { readonly startSample?: number } = {},
): GainRenderer {
  assertRegionList('createGainRenderer', list);
  refuseBands('createGainRenderer', list, 0, list.lengthSamples);
  checkObject('createGainRenderer', 'options', options);
  let position = options.startSample ?? 0;
  checkInteger('createGainRenderer', 'startSample', position, 0);
  return Object.freeze({
    get positionSample(): number {
      return position;
    },
    pushInto(out: Channels, block: Channels): void {
      const input = channelList('pushInto', block, 'block');
      renderBlock('pushInto', out, input, list, position);
      position += (input[0] as Samples).length;
    },
    seek(sample: number): void {
      checkInteger('seek', 'sample', sample, 0);
      position = sample;
    },
  });
}

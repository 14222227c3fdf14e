import { checkListShape } from '../regions/check-list-shape.js';
import { firstEndingAfter } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkDoubles, checkInteger, rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { type BandBlock, bandBlock, mostReach } from './band-block.js';
import { type BandFilter, createBandFilter, type ReadSample } from './band-filter.js';
import { bandRegionGain, type RegionGain, regionGainAt } from './region-gain.js';

/** What the regions with a band add to a clip. */
export interface BandChange {
  /** How far before and after a stretch `read` is asked for samples, at most. */
  readonly reachSamples: number;
  /**
   * Fills `out` with what has to be added to the clip's samples from `startSample` on: (g − 1)·B(x), 0 outside
   * regions with a band. The stretch must lie inside the clip; `read` is asked for the samples as recorded.
   */
  into(out: Doubles, startSample: number, read: ReadSample): void;
}

/**
 * What the regions with a band add to a clip: (g − 1)·B(x) for each sample, with x the samples as recorded, B the
 * part of the clip within the band (a symmetric filter, so without delay), and g the gain of the region at that sample,
 * fades and all. renderGain adds the very same doubles. For a renderer that works on another number format than
 * 32-bit float, such as the integer codes of a file; gainCurveInto has what the other regions do.
 *
 * @param list - The regions of the clip; taken as sound (checkRegionList).
 * @returns An object that keeps filters and scratch memory from call to call, and nothing about the audio.
 * @throws By `into`: TypeError where `out` is not a Float64Array; RangeError where the stretch leaves the clip or a
 *   sample that is read is not finite.
 *
 * Source: see renderGain.
 *
 * @example
 * import { createBandChange } from 'lenition/gain';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const band = { lowHz: 4000, highHz: 24000 };
 * const list = insertRegion(clip, { startSample: 2400, endSample: 7200, gainDb: -6, band });
 * const out = new Float64Array(1);
 * const read = (sample: number) => Math.cos((2 * Math.PI * 8000 * sample) / 48000);
 * createBandChange(list).into(out, 4800, read);
 * (1 + (out[0] ?? 0)).toFixed(3); // => '0.501'
 */
export function createBandChange(list: RegionList): BandChange {
  checkListShape('createBandChange', list);
  const filter = createBandFilter(list.sampleRateHz);
  return Object.freeze({
    reachSamples: mostReach(list),
    into(out: Doubles, startSample: number, read: ReadSample): void {
      const name = 'BandChange.into';
      checkDoubles(name, 'out', out);
      checkInteger(name, 'startSample', startSample, 0, list.lengthSamples);
      const endSample = startSample + out.length;
      if (endSample > list.lengthSamples)
        throw rangeError(name, 'out.length', `must end inside the clip (${list.lengthSamples})`, out.length);
      out.fill(0);
      const { regions } = list;
      for (let index = firstEndingAfter(regions, startSample); index < regions.length; index++) {
        const region = regions[index] as Region;
        if (region.startSample >= endSample) break;
        const gain = bandRegionGain(regions, index);
        if (gain === null) continue;
        let at = Math.max(region.startSample, startSample);
        const end = Math.min(region.endSample, endSample);
        while (at < end) {
          const block = bandBlock(region, at, list.sampleRateHz);
          const to = Math.min(block.endSample, end);
          addBlock(out.subarray(at - startSample, to - startSample), at, block, gain, filter, read, list);
          at = to;
        }
      }
    },
  });
}

function addBlock(
  out: Doubles,
  startSample: number,
  block: BandBlock,
  gain: RegionGain,
  filter: BandFilter,
  read: ReadSample,
  list: RegionList,
): void {
  const part = filter.bandPart(block, read, list.lengthSamples);
  const offset = startSample - block.startSample;
  for (let i = 0; i < out.length; i++) {
    const own = regionGainAt(gain, startSample + i);
    out[i] = own === 1 ? 0 : (own - 1) * (part[offset + i] as number);
  }
}

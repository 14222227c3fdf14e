import type { Region, RegionList } from '../regions/region.js';
import { checkFinite } from '../signal/check.js';
import type { Samples } from '../signal/samples.js';
import { nameOf } from './apply-gain.js';
import { hasBandGain } from './band-block.js';
import { type BandChange, createBandChange } from './band-change.js';
import type { ReadSample } from './band-filter.js';
import { bandShape } from './band-kernel.js';

/** New samples of one channel from `startSample` on. */
export interface Replacement {
  readonly channel: Samples;
  readonly startSample: number;
  readonly samples: Samples;
}

/**
 * The new samples of every region with a band, for a whole clip. They are worked out from the audio as recorded before
 * any region is changed, since a filter looks beyond its region; all samples that it reads are checked first.
 */
export function bandReplacements(
  functionName: string,
  channels: readonly Samples[],
  list: RegionList,
): readonly Replacement[] {
  const touched = list.regions.filter(hasBandGain);
  if (touched.length === 0) return [];
  for (const region of touched) {
    const { start, end } = filteredSpan(region, list);
    channels.forEach((channel, c) => {
      checkFinite(functionName, nameOf(channels, c), channel, start, end);
    });
  }
  const change = createBandChange(list);
  return touched.flatMap(({ startSample, endSample }) => {
    return channels.map((channel) => ({
      channel,
      startSample,
      samples: renderedStretch(change, startSample, endSample, (sample) => channel[sample] as number),
    }));
  });
}

/** One channel's new samples over a stretch, or a part, of a region with a band. */
export function renderedStretch(
  change: BandChange,
  startSample: number,
  endSample: number,
  read: ReadSample,
): Samples {
  const added = new Float64Array(endSample - startSample);
  change.into(added, startSample, read);
  const samples = new Float32Array(added.length);
  for (let i = 0; i < samples.length; i++) {
    const recorded = read(startSample + i);
    // −0 + 0 would be 0, and what is not changed keeps its bits.
    samples[i] = added[i] === 0 ? recorded : recorded + (added[i] as number);
  }
  return samples;
}

/** What a region reads: itself, and with a band as far as its kernel reaches on either side. */
export function filteredSpan(region: Region, list: RegionList): { start: number; end: number } {
  const { band } = region;
  const reachSamples = band === undefined ? 0 : bandShape(band, list.sampleRateHz).reachSamples;
  return {
    start: Math.max(region.startSample - reachSamples, 0),
    end: Math.min(region.endSample + reachSamples, list.lengthSamples),
  };
}

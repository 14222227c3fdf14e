import type { Region, RegionList } from '../regions/region.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import type { Samples } from '../signal/samples.js';
import { regionIsActive } from './region-text.js';

/** A stretch of the clip shown large, and the region that it is there for. */
export interface Detail {
  readonly region: Region;
  readonly startSample: number;
  readonly endSample: number;
}

/**
 * The regions that most deserve a close look, each with room before and after, in time order.
 *
 * Ranked by the high-frequency energy that the gain takes away: (1 − g)² · Σ (x[n] − x[n−1])², summed over channels. The difference
 * of neighbouring samples rises by 6 dB per octave, so hiss counts and rumble does not (common practice, no source). Regions whose
 * gain changes nothing come after all others, ranked by Σ (x[n] − x[n−1])². A region that lies in the stretch of a stronger one gets none of its own.
 *
 * @param channels equally long, finite.
 * @param list regions of the clip.
 * @param count how many at most.
 * @param rollSamples room before and after, in samples; ends at the ends of the clip.
 */
export function strongestRegions(
  channels: readonly Samples[],
  list: RegionList,
  count: number,
  rollSamples: number,
): readonly Detail[] {
  if (count < 1) return [];
  const ranked = list.regions.map((region) => {
    const energy = differenceEnergy(channels, region);
    const active = regionIsActive(region);
    const removed = active ? (1 - amplitudeFromDecibels(region.gainDb)) ** 2 * energy : 0;
    return { region, active, strength: active ? removed : energy };
  });
  ranked.sort(
    (a, b) =>
      Number(b.active) - Number(a.active) ||
      b.strength - a.strength ||
      a.region.startSample - b.region.startSample,
  );
  const details: Detail[] = [];
  for (const { region } of ranked) {
    if (details.length >= count) break;
    const startSample = Math.max(0, region.startSample - rollSamples);
    const endSample = Math.min(list.lengthSamples, region.endSample + rollSamples);
    const seen = details.some((d) => startSample < d.endSample && d.startSample < endSample);
    if (!seen) details.push({ region, startSample, endSample });
  }
  return details.sort((a, b) => a.startSample - b.startSample);
}

function differenceEnergy(channels: readonly Samples[], region: Region): number {
  let energy = 0;
  for (const channel of channels) {
    for (let i = Math.max(1, region.startSample); i < region.endSample; i++) {
      const d = (channel[i] as number) - (channel[i - 1] as number);
      energy += d * d;
    }
  }
  return energy;
}

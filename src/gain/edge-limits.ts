import type { Region, RegionList } from '../regions/region.js';

/** True where placeEdges may move a region: measured on both sides, neither locked nor bypassed. */
export function isPlaceable(region: Region): boolean {
  return !region.locked && !region.bypassed && region.onsetSample !== null && region.offsetSample !== null;
}

/**
 * For each region the first sample that it may take, and (at the next index) the end that it may reach.
 *
 * Between two neighbours the limit lies inside the gap that they leave now, so that both keep at least what they have
 * and nothing can overlap: at the middle between the noises where both may move, else at the edge of the one that stays.
 */
export function edgeLimits(list: RegionList): Float64Array {
  const { regions, lengthSamples } = list;
  const limits = new Float64Array(regions.length + 1);
  limits[regions.length] = lengthSamples;
  for (let i = 1; i < regions.length; i++) {
    const before = regions[i - 1] as Region;
    const after = regions[i] as Region;
    if (!isPlaceable(after)) limits[i] = after.startSample;
    else if (!isPlaceable(before)) limits[i] = before.endSample;
    else {
      const offset = before.offsetSample as number;
      const middle = offset + Math.floor(((after.onsetSample as number) - offset) / 2);
      limits[i] = Math.min(Math.max(middle, before.endSample), after.startSample);
    }
  }
  return limits;
}

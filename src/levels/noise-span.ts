import type { Region } from '../regions/region.js';

/** Samples that a region's measures are over: from onset to offset, from start to end where these are unknown. */
export function noiseSpan(region: Region): { readonly start: number; readonly end: number } {
  const start = region.onsetSample ?? region.startSample;
  const end = region.offsetSample ?? region.endSample;
  // Of a hand-made region with one measured edge, that edge may lie beyond the other.
  return start < end ? { start, end } : { start: region.startSample, end: region.endSample };
}

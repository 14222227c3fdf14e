import type { RegionList } from '../regions/region.js';
import { regionsBetween } from '../regions/regions-between.js';

/** A stretch of samples, half-open. */
export interface SampleSpan {
  readonly startSample: number;
  readonly endSample: number;
}

/** What the regions of a list leave of a stretch, in order of time. */
export function freeParts(list: RegionList, startSample: number, endSample: number): readonly SampleSpan[] {
  const parts: SampleSpan[] = [];
  let from = startSample;
  for (const region of regionsBetween(list, startSample, endSample)) {
    if (region.startSample > from) parts.push({ startSample: from, endSample: region.startSample });
    from = Math.max(from, region.endSample);
  }
  if (from < endSample) parts.push({ startSample: from, endSample });
  return parts;
}

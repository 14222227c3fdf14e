import { REGION_KINDS, type RegionKind, type RegionList } from '../regions/region.js';
import type { Doubles } from '../signal/samples.js';

/** Share of each column's time that regions of one kind cover, 0 to 1. */
export interface KindCoverage {
  readonly kind: RegionKind;
  /** Regions of any confidence. */
  readonly all: Doubles;
  /** Regions of at least the confidence asked for. */
  readonly certain: Doubles;
}

/**
 * How much of each column the regions of each kind cover: the picture of a take with more regions than pixels.
 *
 * @param list regions; those outside the range count nothing.
 * @param startSample and `endSample`: the range in samples, at least one sample.
 * @param columns how many, at least 1.
 * @param minConfidence below it a region counts in `all` only.
 * @returns one entry for each kind that occurs in the range, in the order of REGION_KINDS.
 */
export function kindCoverage(
  list: RegionList,
  startSample: number,
  endSample: number,
  columns: number,
  minConfidence: number,
): readonly KindCoverage[] {
  const byKind = new Map<RegionKind, KindCoverage>();
  const perColumn = (endSample - startSample) / columns;
  for (const region of list.regions) {
    const from = Math.max(region.startSample, startSample);
    const to = Math.min(region.endSample, endSample);
    if (to <= from) continue;
    let entry = byKind.get(region.kind);
    if (entry === undefined) {
      entry = { kind: region.kind, all: new Float64Array(columns), certain: new Float64Array(columns) };
      byKind.set(region.kind, entry);
    }
    const first = Math.min(columns - 1, Math.floor((from - startSample) / perColumn));
    const last = Math.min(columns - 1, Math.floor((to - startSample) / perColumn));
    for (let c = first; c <= last; c++) {
      const low = Math.max(from, startSample + c * perColumn);
      const high = Math.min(to, startSample + (c + 1) * perColumn);
      const share = Math.max(0, high - low) / perColumn;
      entry.all[c] = Math.min(1, (entry.all[c] as number) + share);
      if (region.confidence >= minConfidence)
        entry.certain[c] = Math.min(1, (entry.certain[c] as number) + share);
    }
  }
  return REGION_KINDS.flatMap((kind) => byKind.get(kind) ?? []);
}

import { hasHandKind } from './hand-edits.js';
import type { Region } from './region.js';

/**
 * Pairs of an old region and a new find of the same sound, one to one, as a map from index to index. Measured by what they
 * share of what they cover together (intersection over union); the greatest share goes first, then the earlier. First only
 * regions of one kind are paired; then, of what is left, those whose kind was said by a person with a find of any kind.
 */
export function matchRegions(
  old: readonly Region[],
  finds: readonly Region[],
  leastShare: number,
): ReadonlyMap<number, number> {
  const candidates = overlaps(old, finds).filter(({ share }) => share >= leastShare);
  // A sort keeps equals in order: they stay in order of time.
  candidates.sort((a, b) => b.share - a.share);
  const pairs = new Map<number, number>();
  const taken = new Set<number>();
  const take = (mayPair: (a: Region, b: Region) => boolean): void => {
    for (const { old: o, find: f } of candidates) {
      if (pairs.has(o) || taken.has(f) || !mayPair(old[o] as Region, finds[f] as Region)) continue;
      pairs.set(o, f);
      taken.add(f);
    }
  };
  take((a, b) => a.kind === b.kind);
  take(hasHandKind);
  return pairs;
}

interface Overlap {
  readonly old: number;
  readonly find: number;
  readonly share: number;
}

/** Every overlapping pair, in one walk along both lists: at most as many as they have regions together. */
function overlaps(old: readonly Region[], finds: readonly Region[]): Overlap[] {
  const found: Overlap[] = [];
  let f = 0;
  for (let o = 0; o < old.length; o++) {
    const a = old[o] as Region;
    while (f < finds.length && (finds[f] as Region).endSample <= a.startSample) f++;
    for (let i = f; i < finds.length && (finds[i] as Region).startSample < a.endSample; i++)
      found.push({ old: o, find: i, share: sharedPart(a, finds[i] as Region) });
  }
  return found;
}

function sharedPart(a: Region, b: Region): number {
  const shared = Math.min(a.endSample, b.endSample) - Math.max(a.startSample, b.startSample);
  const together = Math.max(a.endSample, b.endSample) - Math.min(a.startSample, b.startSample);
  return shared / together;
}

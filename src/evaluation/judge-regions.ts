import type { RegionKind } from '../regions/region.js';
import { checkObject } from '../signal/check.js';
import { overlapMatching, overlapShare } from './match-by-overlap.js';
import { checkRegionEvents, type RegionEvent } from './region-events.js';
import type { JudgedDecision } from './reliability.js';
import { checkEvents, type SoundEvent } from './sound-event.js';

/** A region's confidence and whether its kind was right. */
export interface JudgedRegion extends JudgedDecision {
  /** What the region says that it is. */
  readonly kind: RegionKind;
}

/**
 * Says of each region whether its kind is right: whether it matches (see `matchByOverlap`, one to one within the kind) a
 * label of that kind. Regions of a kind that `labelsOfKind` does not name are left out.
 *
 * `labelsOfKind`: the labels that make each kind right, sibilant labels for sibilant regions and so on.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { judgeRegions } from 'lenition/evaluation';
 * const s = { startSeconds: 0, endSeconds: 0.1, label: 's' };
 * const region = { startSeconds: 0, endSeconds: 0.1, label: 'sibilant', confidence: 0.9 };
 * judgeRegions([region], { sibilant: [s] }); // => [{ kind: 'sibilant', confidence: 0.9, right: true }]
 */
export function judgeRegions(
  regions: readonly RegionEvent[],
  labelsOfKind: Partial<Record<RegionKind, readonly SoundEvent[]>>,
  options: { readonly share?: number } = {},
): readonly JudgedRegion[] {
  checkRegionEvents('judgeRegions', 'regions', regions);
  checkObject('judgeRegions', 'labelsOfKind', labelsOfKind);
  overlapShare('judgeRegions', options);
  for (const [kind, labels] of Object.entries(labelsOfKind))
    checkEvents('judgeRegions', `labelsOfKind.${kind}`, labels);
  const right = new Set<RegionEvent>();
  for (const [kind, labels] of Object.entries(labelsOfKind)) {
    const ofKind = regions.filter((region) => region.label === kind);
    for (const pair of overlapMatching('judgeRegions', labels, ofKind, options).pairs)
      right.add(ofKind[pair.estimate] as RegionEvent);
  }
  return regions
    .filter((region) => labelsOfKind[region.label] !== undefined)
    .map((region) => ({ kind: region.label, confidence: region.confidence, right: right.has(region) }));
}

import { checkArray, checkChoice, checkFields, checkNumber, checkObject } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { freezeList } from './freeze-region.js';
import { mergedRegion } from './merge-regions.js';
import { REGION_KINDS, type Region, type RegionKind, type RegionList } from './region.js';
import { soundRegion } from './replace-regions.js';
import { samplesWithin } from './time.js';

/** What counts as one sound with a hole in it. */
export interface JoinOptions {
  /** Longest gap that is closed, in seconds, at least 0; rounded down to whole samples. 0 joins what touches. */
  readonly maxGapSeconds: number;
  /** Only regions of these kinds; every kind unless given. */
  readonly kinds?: readonly RegionKind[];
}

/**
 * The list with neighbours of one kind joined where the gap between them is short, as `mergeRegions` would: the earliest
 * gives id, start and fade-in, the latest end and fade-out, the longest all the rest, its gain included. The gap then
 * comes under the gain. Joined are only regions that are next to each other, agree on kind, bypass and band, and are not
 * locked; a chain of them becomes one.
 *
 * @param list a sound region list
 * @param options the longest gap, and the kinds
 * @returns a new list, or the same list where nothing is joined. Joining the result again joins nothing.
 * @throws RangeError or TypeError where the gap or a kind is not as stated
 *
 * @example
 * import { createRegionList, insertRegions, joinAcrossGaps } from 'lenition/regions';
 * const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 }), [
 *   { startSample: 0, endSample: 4800, kind: 'sibilant' },
 *   { startSample: 5000, endSample: 9600, kind: 'sibilant' },
 *   { startSample: 9700, endSample: 10000, kind: 'burst' },
 * ]);
 * const joined = joinAcrossGaps(list, { maxGapSeconds: 0.005 });
 * joined.regions.map((r) => [r.id, r.startSample, r.endSample]); // => [[1, 0, 9600], [3, 9700, 10000]]
 */
export function joinAcrossGaps(list: RegionList, options: JoinOptions): RegionList {
  checkListShape('joinAcrossGaps', list);
  checkObject('joinAcrossGaps', 'options', options);
  checkFields('joinAcrossGaps', 'options', options, ['maxGapSeconds', 'kinds']);
  const { maxGapSeconds, kinds = REGION_KINDS } = options;
  checkNumber('joinAcrossGaps', 'maxGapSeconds', maxGapSeconds, 0);
  checkArray('joinAcrossGaps', 'kinds', kinds);
  for (const kind of kinds) checkChoice('joinAcrossGaps', 'kinds', kind, REGION_KINDS);
  const maxGap = samplesWithin(maxGapSeconds, list.sampleRateHz);
  const old = list.regions;
  const regions: Region[] = [];
  for (let from = 0; from < old.length; ) {
    let past = from + 1;
    while (past < old.length && isOneSound(old[past - 1] as Region, old[past] as Region, kinds, maxGap))
      past++;
    const first = old[from] as Region;
    const joined = past === from + 1 ? first : mergedRegion(old.slice(from, past));
    regions.push(
      joined === first ? first : soundRegion('joinAcrossGaps', joined, list, list.nextId, 'region'),
    );
    from = past;
  }
  return regions.length === old.length ? list : freezeList({ ...list, regions });
}

function isOneSound(a: Region, b: Region, kinds: readonly RegionKind[], maxGap: number): boolean {
  return (
    a.kind === b.kind &&
    kinds.includes(a.kind) &&
    !a.locked &&
    !b.locked &&
    a.bypassed === b.bypassed &&
    a.band?.lowHz === b.band?.lowHz &&
    a.band?.highHz === b.band?.highHz &&
    b.startSample - a.endSample <= maxGap
  );
}

import { checkChoice, checkFields, checkInteger, checkObject, rangeError } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import { editByIds, type RegionIds } from './edit-regions.js';
import { withEdges } from './fit-region.js';
import type { RegionList } from './region.js';
import { samplesOfSeconds } from './time.js';

/** Which edges move, and how far: `bySamples` or `bySeconds`, one of the two. */
export interface EdgeNudge {
  /** Distance in samples; negative is earlier. */
  readonly bySamples?: number;
  /** Distance in seconds, to the nearest sample; negative is earlier. A millisecond is 0.001. */
  readonly bySeconds?: number;
  /** `both` (unless given) moves the region as it is; `start` and `end` make it longer or shorter. */
  readonly edges?: 'both' | 'start' | 'end';
}

/**
 * The list with the edges of one or several regions moved by one distance. Regions that are moved together may keep
 * touching. Fades that no longer fit are shortened in proportion; onset and offset stay, since they describe the
 * noise and not the region.
 *
 * @param list a sound region list
 * @param ids one id or several
 * @param nudge distance and edges
 * @throws RangeError where a region would overlap another, be empty or leave the clip, an id is unknown or its region
 * locked, or not exactly one distance is given; TypeError where a value is of the wrong kind. The list passed stays as
 * it was.
 *
 * @example
 * import { createRegionList, insertRegion, nudgeEdges, regionById } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 4800, endSample: 9600 });
 * const earlier = regionById(nudgeEdges(list, 1, { bySeconds: -0.002, edges: 'start' }), 1);
 * [earlier?.startSample, earlier?.endSample]; // => [4704, 9600]
 */
export function nudgeEdges(list: RegionList, ids: RegionIds, nudge: EdgeNudge): RegionList {
  checkListShape('nudgeEdges', list);
  checkObject('nudgeEdges', 'nudge', nudge);
  checkFields('nudgeEdges', 'nudge', nudge, ['bySamples', 'bySeconds', 'edges']);
  const { bySamples, bySeconds, edges = 'both' } = nudge;
  checkChoice('nudgeEdges', 'edges', edges, ['both', 'start', 'end']);
  if ((bySamples === undefined) === (bySeconds === undefined))
    throw rangeError('nudgeEdges', 'nudge', 'must give either bySamples or bySeconds', nudge);
  const by = bySamples ?? samplesOfSeconds('nudgeEdges', 'bySeconds', bySeconds as number, list.sampleRateHz);
  checkInteger('nudgeEdges', 'bySamples', by);
  return editByIds('nudgeEdges', list, ids, (region) =>
    withEdges(
      region,
      region.startSample + (edges === 'end' ? 0 : by),
      region.endSample + (edges === 'start' ? 0 : by),
    ),
  );
}

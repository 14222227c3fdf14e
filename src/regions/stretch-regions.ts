import { checkFields, checkInteger, checkNumber, checkObject } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import type { RegionList } from './region.js';
import { type MovedList, type MoveOptions, remapRegions } from './remap-regions.js';

/** Least and most ratio: wider than any take is stretched. */
const LEAST_RATIO = 0.01;
const MOST_RATIO = 100;

/**
 * The list for a take that was stretched or squeezed: every position p becomes round(p · ratio), halves later. The ends
 * of the fades are positions too, so a fade that was over before the noise still is. Regions that become shorter than a
 * sample are dropped, those that leave the clip are cut off or dropped; both are reported. Ids stay; those of dropped
 * regions are not given again.
 *
 * @param list a sound region list
 * @param ratio new length / old length, 0.01 to 100; 1 moves nothing
 * @param options `lengthSamples` of the clip after it (unless given, round(old length · ratio)), and `moveLocked`, which a
 * list with a locked region needs
 * @returns the list, and what was lost of it
 * @throws RangeError where a value is out of range, or the list holds a locked region and `moveLocked` is not true;
 * TypeError where a value is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegion, stretchRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { startSample: 1000, endSample: 2000, fadeInSamples: 100 });
 * const { list: longer } = stretchRegions(list, 60000 / 48000);
 * longer.lengthSamples; // => 60000
 * longer.regions.map((r) => [r.startSample, r.endSample, r.fadeInSamples]); // => [[1250, 2500, 125]]
 */
export function stretchRegions(list: RegionList, ratio: number, options: MoveOptions = {}): MovedList {
  checkListShape('stretchRegions', list);
  checkNumber('stretchRegions', 'ratio', ratio, LEAST_RATIO, MOST_RATIO);
  checkObject('stretchRegions', 'options', options);
  checkFields('stretchRegions', 'options', options, ['lengthSamples', 'moveLocked']);
  const { lengthSamples = Math.round(list.lengthSamples * ratio), moveLocked = false } = options;
  checkInteger('stretchRegions', 'lengthSamples', lengthSamples, 0);
  if (ratio === 1 && lengthSamples === list.lengthSamples)
    return Object.freeze({ list, lost: Object.freeze([]) });
  const place = (sample: number): number => Math.round(sample * ratio);
  return remapRegions('stretchRegions', list, place, lengthSamples, moveLocked);
}

import { checkFields, checkInteger, checkObject } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import type { RegionList } from './region.js';
import { type MovedList, type MoveOptions, remapRegions } from './remap-regions.js';

/**
 * The list for a take that was moved: every position later by so many samples. Regions that leave the clip are cut off at
 * its ends or dropped, and reported. Ids stay; those of dropped regions are not given again.
 *
 * A locked region belongs to its sound, yet it may not change unasked: with one in the list, say `moveLocked: true`.
 *
 * @param list a sound region list
 * @param bySamples distance in samples; negative is earlier
 * @param options `lengthSamples` of the clip after the move (unless given, as before) and `moveLocked`
 * @returns the list, and what was lost of it; with no distance and no new length the same list
 * @throws RangeError where a value is out of range, or the list holds a locked region and `moveLocked` is not true;
 * TypeError where a value is of the wrong kind. The list passed stays as it was.
 *
 * @example
 * import { createRegionList, insertRegions, shiftRegions } from 'lenition/regions';
 * const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 }), [
 *   { startSample: 1000, endSample: 2000 },
 *   { startSample: 47000, endSample: 48000 },
 * ]);
 * const moved = shiftRegions(list, 600);
 * moved.list.regions.map((r) => [r.startSample, r.endSample]); // => [[1600, 2600], [47600, 48000]]
 * moved.lost.map(({ region, reason }) => [region.id, reason]); // => [[2, 'clipped']]
 */
export function shiftRegions(list: RegionList, bySamples: number, options: MoveOptions = {}): MovedList {
  checkListShape('shiftRegions', list);
  checkObject('shiftRegions', 'options', options);
  checkFields('shiftRegions', 'options', options, ['lengthSamples', 'moveLocked']);
  const { lengthSamples = list.lengthSamples, moveLocked = false } = options;
  checkInteger('shiftRegions', 'bySamples', bySamples);
  checkInteger('shiftRegions', 'lengthSamples', lengthSamples, 0);
  return shiftBy('shiftRegions', list, bySamples, lengthSamples, moveLocked);
}

/** The same for another function, whose name its errors then carry. */
export function shiftBy(
  functionName: string,
  list: RegionList,
  bySamples: number,
  lengthSamples: number,
  moveLocked: boolean,
): MovedList {
  if (bySamples === 0 && lengthSamples === list.lengthSamples)
    return Object.freeze({ list, lost: Object.freeze([]) });
  return remapRegions(functionName, list, (sample) => sample + bySamples, lengthSamples, moveLocked);
}

import { checkFields, checkInteger, checkObject } from '../signal/check.js';
import { checkListShape } from './check-list-shape.js';
import type { RegionList } from './region.js';
import type { MovedList, MoveOptions } from './remap-regions.js';
import { shiftBy } from './shift-regions.js';
import { samplesOfFrames } from './timecode.js';
import type { TimecodeRate } from './timecode-rate.js';

/**
 * The whole list later by so many frames of timecode, as for a take that was laid to picture: `shiftRegions` by
 * `framesToSamples(frames)`. A frame is 33 to 42 ms, far too coarse for an edge: single edges are nudged by samples or
 * seconds, with `nudgeEdges`.
 *
 * The distance is rounded once, to the nearest sample: several steps of one frame may end a few samples from one step of
 * as many, going there and back does not.
 *
 * @param list a sound region list, of a whole number of samples a second
 * @param frames a whole number of frames; negative is earlier
 * @param rate the frame rate
 * @param options as for `shiftRegions`
 * @returns the list, and what was lost of it
 * @throws as `shiftRegions`; and RangeError or TypeError where frames or rate are not as stated
 *
 * @example
 * import { createRegionList, insertRegion, nudgeByFrames } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(empty, { startSample: 4800, endSample: 9600 });
 * nudgeByFrames(list, 2, '25').list.regions[0]?.startSample; // => 8640
 */
export function nudgeByFrames(
  list: RegionList,
  frames: number,
  rate: TimecodeRate,
  options: MoveOptions = {},
): MovedList {
  checkListShape('nudgeByFrames', list);
  checkObject('nudgeByFrames', 'options', options);
  checkFields('nudgeByFrames', 'options', options, ['lengthSamples', 'moveLocked']);
  const { lengthSamples = list.lengthSamples, moveLocked = false } = options;
  checkInteger('nudgeByFrames', 'lengthSamples', lengthSamples, 0);
  const bySamples = samplesOfFrames('nudgeByFrames', frames, list.sampleRateHz, rate);
  return shiftBy('nudgeByFrames', list, bySamples, lengthSamples, moveLocked);
}

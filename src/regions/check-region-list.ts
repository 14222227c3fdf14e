import { rangeError, typeError } from '../signal/check.js';
import type { RegionList } from './region.js';
import { visitListBreaches } from './region-rules.js';

/**
 * Throws unless `list` keeps every rule of a region list. Meant for borders, where a list comes from
 * somewhere else: the edits of this folder take a list that passed and return one that would.
 *
 * The rules: `sampleRateHz` within 8,000 to 192,000; `lengthSamples` and every position a safe integer;
 * regions ordered by `startSample`, none overlapping another of whatever kind, touching allowed;
 * 0 <= startSample < endSample <= lengthSamples (half-open); ids unique, 1 <= id < nextId; fades at
 * least 0 and together no longer than the region; `gainDb` within LEAST_GAIN_DB to MOST_GAIN_DB; `band` absent, or
 * within 0 Hz to half the rate and at least LEAST_BAND_WIDTH_HZ wide;
 * `confidence` within 0 to 1; `onsetSample` and `offsetSample` null or within the clip, onset before offset;
 * every number of a reason finite. Unknown fields are not looked at.
 *
 * Time: linear in the number of regions. A list without regions, or of a clip of 0 samples, passes.
 *
 * @param list what is to be checked
 * @throws TypeError where a field is of the wrong kind; RangeError where its value is wrong. The message
 * names the field, as in `list.regions[3].gainDb`.
 *
 * @example
 * import { checkRegionList, createRegionList } from 'lenition/regions';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * checkRegionList(list); // => undefined
 */
export function checkRegionList(list: unknown): asserts list is RegionList {
  assertRegionList('checkRegionList', list);
}

/** The same for another function's argument, whose name the message then carries. */
export function assertRegionList(functionName: string, list: unknown): asserts list is RegionList {
  visitListBreaches(list, 'list', (path, rule, received, wrongKind) => {
    throw (wrongKind ? typeError : rangeError)(functionName, path, rule, received);
  });
}

import { checkInteger, checkObject, checkSampleRate } from '../signal/check.js';
import { freezeList } from './freeze-region.js';
import type { RegionList } from './region.js';

/** The clip that a region list belongs to. */
export interface ClipOptions {
  /** Samples a second, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Length of the clip, in samples, at least 0. */
  readonly lengthSamples: number;
}

/**
 * An empty region list for one clip; its first region will get the id 1.
 *
 * @param options the clip's rate in Hz and its length in samples; a clip of 0 samples is allowed and can
 * hold no region
 * @throws RangeError or TypeError where rate or length is not as stated
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * list.regions.length; // => 0
 * list.nextId; // => 1
 */
export function createRegionList(options: ClipOptions): RegionList {
  checkObject('createRegionList', 'options', options);
  const { sampleRateHz, lengthSamples } = options;
  checkSampleRate('createRegionList', sampleRateHz);
  checkInteger('createRegionList', 'lengthSamples', lengthSamples, 0);
  return freezeList({ sampleRateHz, lengthSamples, nextId: 1, regions: [] });
}

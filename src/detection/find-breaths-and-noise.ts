import type { RegionList } from '../regions/region.js';
import type { Channels } from '../signal/samples.js';
import { addBreaths, DEFAULT_BREATH_OPTIONS } from './find-breaths.js';
import { addClicks, DEFAULT_CLICK_OPTIONS } from './find-clicks.js';
import { addNoise, DEFAULT_NOISE_OPTIONS } from './find-noise.js';
import { addThumps, DEFAULT_THUMP_OPTIONS } from './find-thumps.js';
import { analyseTake } from './take-analysis.js';

/**
 * Adds to the consonants of a take what else an engineer turns down: findBreaths, then findClicks, findThumps and findNoise with
 * their defaults. The order matters, since what is listed is left alone by those that follow: a click in a pause would else be
 * taken for a noise of 0.1 s.
 *
 * @param list The regions of the clip, as detectConsonants gives them; they stay as they are.
 * @param channels The clip, one channel or several.
 * @returns The list with the new regions, gain 0: see softenBreaths and lowerNoise for what to do with them. The same list where nothing is
 *   found; a second call finds nothing more.
 * @throws RangeError or TypeError as each of the four.
 *
 * @example
 * import { detectConsonants, findBreathsAndNoise } from 'lenition/detection';
 * const silence = new Float32Array(48000);
 * findBreathsAndNoise(detectConsonants(silence, { sampleRateHz: 48000 }), silence).regions.length; // => 0
 */
export function findBreathsAndNoise(list: RegionList, channels: Channels): RegionList {
  const take = analyseTake('findBreathsAndNoise', list, channels);
  const breaths = addBreaths(list, take, DEFAULT_BREATH_OPTIONS);
  const clicks = addClicks(breaths, take, DEFAULT_CLICK_OPTIONS);
  const thumps = addThumps(clicks, take, DEFAULT_THUMP_OPTIONS);
  return addNoise(thumps, take, DEFAULT_NOISE_OPTIONS);
}

import { checkListShape } from '../regions/check-list-shape.js';
import { firstEndingAfter } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkDoubles, checkInteger, rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { regionGain, regionGainAt } from './region-gain.js';

/**
 * The amplitude factors of a stretch of the clip, one a sample, as the same doubles that renderGain multiplies by.
 * For a renderer that works on another number format than 32-bit float, such as the integer codes of a file. These are
 * the gains on the whole spectrum; what regions with a band do is added to it, and createBandChange has that.
 *
 * @param out - Filled whole: `out[i]` is the factor of clip sample `startSample + i`; 1 outside regions and in those
 *   that leave the audio alone or have a band. An empty array is left as it is.
 * @param list - The regions of the clip.
 * @param startSample - Position of `out[0]` in samples; the stretch must lie inside the clip.
 * @throws TypeError where `out` is not a Float64Array; RangeError where the stretch leaves the clip.
 *
 * Source: see renderGain.
 *
 * @example
 * import { gainCurveInto } from 'lenition/gain';
 * const region = {
 *   id: 1, kind: 'sibilant', onsetSample: null, offsetSample: null, startSample: 100, endSample: 200, gainDb: -20,
 *   confidence: 1, bypassed: false, locked: false, fadeInSamples: 2, fadeOutSamples: 0, fadeShape: 'linear',
 *   label: '', reason: { rule: 'byHand', numbers: {} },
 * } as const;
 * const list = { sampleRateHz: 48000, lengthSamples: 300, nextId: 2, regions: [region] };
 * const curve = new Float64Array(4);
 * gainCurveInto(curve, list, 99);
 * Array.from(curve, (x) => x.toFixed(2)); // => ['1.00', '1.00', '0.55', '0.10']
 */
export function gainCurveInto(out: Doubles, list: RegionList, startSample: number): void {
  checkDoubles('gainCurveInto', 'out', out);
  checkListShape('gainCurveInto', list);
  checkInteger('gainCurveInto', 'startSample', startSample, 0, list.lengthSamples);
  const endSample = startSample + out.length;
  if (endSample > list.lengthSamples)
    throw rangeError(
      'gainCurveInto',
      'out.length',
      `must end inside the clip (${list.lengthSamples})`,
      out.length,
    );
  out.fill(1);
  const { regions } = list;
  for (let index = firstEndingAfter(regions, startSample); index < regions.length; index++) {
    if ((regions[index] as Region).startSample >= endSample) break;
    const gain = regionGain(regions, index);
    if (gain === null) continue;
    const end = Math.min(gain.endSample, endSample);
    for (let s = Math.max(gain.startSample, startSample); s < end; s++)
      out[s - startSample] = regionGainAt(gain, s);
  }
}

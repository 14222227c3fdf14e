import { checkListShape } from '../regions/check-list-shape.js';
import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import {
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
  type Region,
  type RegionKind,
  type RegionList,
} from '../regions/region.js';
import { checkArray, checkChoice, checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { changesAudio } from './changes-audio.js';

/** Settings of gainAtDepth. */
export interface GainAtDepthOptions {
  /** What every gain in dB is multiplied by, 0 or more: 0 leaves the audio alone, 1 is the list as it is, 2 cuts twice as many dB. */
  readonly depth: number;
  /** No region is cut by more than this, in dB, 0 to 120; it also holds back a cut that was deeper before. */
  readonly maxCutDb?: number;
  /** Kinds to scale; regions of other kinds keep their gain. Left out: every kind. */
  readonly kinds?: readonly RegionKind[];
}

/** Defaults of gainAtDepth: a cut may go as far as the mute, on regions of every kind. There is no default depth. */
export const DEFAULT_GAIN_AT_DEPTH_OPTIONS: Readonly<Required<Omit<GainAtDepthOptions, 'depth'>>> =
  Object.freeze({ maxCutDb: -LEAST_GAIN_DB, kinds: REGION_KINDS });

/**
 * The same regions with their gains deeper or shallower, for a second place that the voice goes to: a reverb or a delay, where an s
 * that is fine in the voice itself splashes.
 *
 * gain = depth · gain in dB, within −maxCutDb to MOST_GAIN_DB. Edges, fades and bands stay.
 *
 * The depth counts from the voice as recorded. Where the send is taken after the cut of this list, that cut is in it already: hand
 * over `depth − 1` there, for gains in dB add up. (Between fades they do so exactly; within a linear or raised-cosine fade the product of
 * two is not quite the fade of the deeper one, within a `decibel` fade it is.)
 *
 * Locked regions are scaled like the others and stay locked. A lock keeps decisions off the list that is being edited, and this is not
 * an edit of it: it is a second list to hand over, and a region left out would splash alone. Keep the first list to edit. The over-cut guard is
 * not asked: it keeps an s from being heard as th in the voice, and nobody takes the words from the send.
 *
 * @param list - The regions of a clip; not changed. An empty list comes back as it is.
 * @param options - Depth, greatest cut, kinds.
 * @returns A new list that shares the untouched regions, or the same list where no gain changes. Changed regions carry the reason
 *   `{ rule: 'gainAtDepth', numbers: { fromDb, depth, maxCutDb, gainDb } }`. Bypassed regions and those at 0 dB stay as they are.
 * @throws RangeError or TypeError for a depth or limit outside its range or an unknown kind.
 *
 * Source: common practice.
 *
 * @example
 * import { gainAtDepth } from 'lenition/gain';
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegions(clip, [
 *   { kind: 'sibilant', startSample: 0, endSample: 4800, gainDb: -6 },
 *   { kind: 'breath', startSample: 9600, endSample: 19200, gainDb: -24 },
 * ]);
 * gainAtDepth(list, { depth: 2, maxCutDb: 30 }).regions.map((region) => region.gainDb); // => [-12, -30]
 * gainAtDepth(list, { depth: 2, kinds: ['sibilant'] }).regions.map((region) => region.gainDb); // => [-12, -24]
 */
export function gainAtDepth(list: RegionList, options: GainAtDepthOptions): RegionList {
  const { depth, maxCutDb, kinds } = checkedOptions('gainAtDepth', DEFAULT_GAIN_AT_DEPTH_OPTIONS, options, [
    'depth',
  ]);
  checkListShape('gainAtDepth', list);
  checkNumber('gainAtDepth', 'depth', depth, 0);
  checkNumber('gainAtDepth', 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  checkArray('gainAtDepth', 'kinds', kinds);
  for (const kind of kinds) checkChoice('gainAtDepth', 'kinds', kind, REGION_KINDS);
  const scale = (region: Region): Region => {
    if (!changesAudio(region) || !kinds.includes(region.kind)) return region;
    // Adding 0 makes 0 of −0, which JSON would lose.
    const gainDb = Math.max(-maxCutDb, Math.min(region.gainDb * depth, MOST_GAIN_DB)) + 0;
    if (gainDb === region.gainDb) return region;
    const numbers = { fromDb: region.gainDb, depth, maxCutDb, gainDb };
    return freezeRegion({ ...region, gainDb, reason: { rule: 'gainAtDepth', numbers } });
  };
  const regions = list.regions.map(scale);
  return regions.every((region, i) => region === list.regions[i]) ? list : freezeList({ ...list, regions });
}

import { LEAST_GAIN_DB, type RegionKind, type RegionList } from '../regions/region.js';
import { checkChoice, checkFields, checkNumber, checkObject } from '../signal/check.js';
import { decideGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';

/** Whether a take carries the words or stands behind one that does. */
export type TakePart = 'lead' | 'backing';

/**
 * Usual gain of each kind, in dB, for a lead and for backing takes. All of it is common practice, no source:
 *
 * - sibilant −6: the first cut of a harsh s.
 * - fricative and burst −3, and only when asked for: an f is soft already, and a t carries the diction.
 * - breath −9 in a lead, where breathing belongs to the singer (6 to 12 are usual); −24 in a backing take, where many add up.
 * - click −12: mouth noise is not part of the performance, and lies between sounds.
 * - noise −12: what is heard between phrases is lowered; the room stays, so that pauses do not fall into a hole.
 * - cymbal −6.
 * - custom 0: only who marked it knows.
 */
export const DEFAULT_KIND_CUTS: Readonly<Record<TakePart, Readonly<Record<RegionKind, number>>>> =
  Object.freeze({
    lead: Object.freeze(kindCuts(-9)),
    backing: Object.freeze(kindCuts(-24)),
  });

function kindCuts(breath: number): Record<RegionKind, number> {
  return { sibilant: -6, fricative: -3, burst: -3, breath, click: -12, noise: -12, cymbal: -6, custom: 0 };
}

/** Settings of defaultCuts. */
export interface DefaultCutsOptions extends RegionChoice {
  /** Default 'lead'. */
  readonly part?: TakePart;
  /** Gains that differ from DEFAULT_KIND_CUTS, in dB, LEAST_GAIN_DB to 0, by kind. */
  readonly gainsDb?: Readonly<Partial<Record<RegionKind, number>>>;
}

/**
 * Gives every chosen region the usual gain of its kind: sibilants unless `kinds` says otherwise, the others when asked for.
 *
 * A fixed cut by kind: gains are set, so doing it twice changes nothing more. Locked and bypassed regions stay as they are. Start,
 * end and fades are not touched.
 *
 * @param list - The regions of a take; not changed. An empty list comes back as it is.
 * @param options - Lead or backing, gains that differ, and choice of regions.
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Changed regions carry
 *   the reason `{ rule: 'defaultCuts', numbers: { gainDb } }`.
 * @throws RangeError or TypeError for an unknown part or kind, a gain outside [LEAST_GAIN_DB, 0], a bad id or confidence.
 *
 * Source: common practice.
 *
 * @example
 * import { defaultCuts } from 'lenition/gain';
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegions(empty, [
 *   { kind: 'sibilant', startSample: 0, endSample: 4800 },
 *   { kind: 'burst', startSample: 9600, endSample: 12000 },
 *   { kind: 'breath', startSample: 24000, endSample: 36000 },
 * ]);
 * defaultCuts(list).regions.map((region) => region.gainDb); // => [-6, 0, 0]
 * const kinds = ['sibilant', 'burst', 'breath'] as const;
 * defaultCuts(list, { kinds, part: 'backing' }).regions.map((region) => region.gainDb); // => [-6, -3, -24]
 */
export function defaultCuts(list: RegionList, options: DefaultCutsOptions = {}): RegionList {
  checkObject('defaultCuts', 'options', options);
  checkFields('defaultCuts', 'options', options, ['part', 'gainsDb', ...REGION_CHOICE_FIELDS]);
  const { part = 'lead', gainsDb = {} } = options;
  checkChoice('defaultCuts', 'part', part, ['lead', 'backing']);
  checkObject('defaultCuts', 'gainsDb', gainsDb);
  const gains = { ...DEFAULT_KIND_CUTS[part], ...gainsDb };
  for (const [kind, gainDb] of Object.entries(gains)) {
    checkChoice('defaultCuts', 'gainsDb', kind, Object.keys(DEFAULT_KIND_CUTS[part]));
    checkNumber('defaultCuts', `gainsDb.${kind}`, gainDb, LEAST_GAIN_DB, 0);
  }
  return decideGain('defaultCuts', list, options, (region) => ({ gainDb: gains[region.kind], numbers: {} }));
}

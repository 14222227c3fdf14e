import { LEAST_GAIN_DB, type RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { changeGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';

/** Settings of fixedCut. */
export interface FixedCutOptions extends RegionChoice {
  /** Gain of every chosen region in dB, LEAST_GAIN_DB to 0. */
  readonly gainDb?: number;
}

/**
 * Defaults of fixedCut: −6 dB, a common first cut for a harsh s (×0.50119; common practice, no source), on every
 * sibilant, whatever the confidence.
 */
export const DEFAULT_FIXED_CUT_OPTIONS: Readonly<
  Required<Pick<FixedCutOptions, 'gainDb' | 'minConfidence'>>
> = Object.freeze({
  gainDb: -6,
  minConfidence: 0,
});

/**
 * Gives every chosen region one and the same gain. Doing it twice changes nothing more (stepGain adds up instead).
 *
 * Locked and bypassed regions stay as they are. Start, end and fades are not touched: see placeEdges.
 *
 * @param list - The regions of a clip; not changed. An empty list comes back as it is.
 * @param options - Gain and choice of regions. A gain above 0 is refused: a cut is negative.
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Changed regions carry
 *   the reason `{ rule: 'fixedCut', numbers: { gainDb } }`.
 * @throws RangeError or TypeError for a gain outside [LEAST_GAIN_DB, 0], an unknown kind, a bad id or confidence.
 *
 * Source: common practice.
 *
 * @example
 * import { fixedCut } from 'lenition/gain';
 * const region = {
 *   id: 1, kind: 'sibilant', onsetSample: null, offsetSample: null, startSample: 100, endSample: 200, gainDb: 0,
 *   confidence: 1, bypassed: false, locked: false, fadeInSamples: 0, fadeOutSamples: 0, fadeShape: 'linear',
 *   label: '', reason: { rule: 'byHand', numbers: {} },
 * } as const;
 * const list = { sampleRateHz: 48000, lengthSamples: 300, nextId: 2, regions: [region] };
 * fixedCut(list).regions[0]?.gainDb; // => -6
 * fixedCut(list, { kinds: ['breath'], gainDb: -9 }) === list; // => true
 */
export function fixedCut(list: RegionList, options: FixedCutOptions = {}): RegionList {
  const { gainDb } = checkedOptions('fixedCut', DEFAULT_FIXED_CUT_OPTIONS, options, REGION_CHOICE_FIELDS);
  checkNumber('fixedCut', 'gainDb', gainDb, LEAST_GAIN_DB, 0);
  // 0 + −0 is 0: a list never holds a negative zero, which JSON would lose.
  return changeGain('fixedCut', list, options, () => gainDb + 0, {});
}

import { LEAST_GAIN_DB, MOST_GAIN_DB, type RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { changeGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';

/** Settings of stepGain. */
export interface StepGainOptions extends RegionChoice {
  /** What is added to the gain of every chosen region, in dB, −144 to 144. */
  readonly stepDb?: number;
  /** A step up ends here, in dB, LEAST_GAIN_DB to MOST_GAIN_DB; a gain that is above it already is not pulled down. */
  readonly mostGainDb?: number;
}

/**
 * Defaults of stepGain: one step is −6 dB (common practice, no source), and steps up end at 0 dB, so that undoing
 * cuts by ear cannot turn into a boost by one press too many.
 */
export const DEFAULT_STEP_GAIN_OPTIONS: Readonly<
  Required<Pick<StepGainOptions, 'stepDb' | 'mostGainDb' | 'minConfidence'>>
> = Object.freeze({ stepDb: -6, mostGainDb: 0, minConfidence: 0 });

/**
 * Adds decibels to the gain of every chosen region: two steps of −6 are −12.
 *
 * Gains stay within [LEAST_GAIN_DB, mostGainDb]. Locked and bypassed regions stay as they are.
 *
 * @param list - The regions of a clip; not changed. An empty list comes back as it is.
 * @param options - Step, upper end and choice of regions.
 * @returns A new list that shares the untouched regions, or the same list where no gain changes. Changed regions carry
 *   the reason `{ rule: 'stepGain', numbers: { stepDb, gainDb } }`.
 * @throws RangeError or TypeError for a step or limit outside its range, an unknown kind, a bad id or confidence.
 *
 * Source: common practice.
 *
 * @example
 * import { stepGain } from 'lenition/gain';
 * const region = {
 *   id: 1, kind: 'sibilant', onsetSample: null, offsetSample: null, startSample: 100, endSample: 200, gainDb: 0,
 *   confidence: 1, bypassed: false, locked: false, fadeInSamples: 0, fadeOutSamples: 0, fadeShape: 'linear',
 *   label: '', reason: { rule: 'byHand', numbers: {} },
 * } as const;
 * const list = { sampleRateHz: 48000, lengthSamples: 300, nextId: 2, regions: [region] };
 * stepGain(stepGain(list)).regions[0]?.gainDb; // => -12
 * stepGain(list, { stepDb: 1 }).regions[0]?.gainDb; // => 0
 */
export function stepGain(list: RegionList, options: StepGainOptions = {}): RegionList {
  const { stepDb, mostGainDb } = checkedOptions(
    'stepGain',
    DEFAULT_STEP_GAIN_OPTIONS,
    options,
    REGION_CHOICE_FIELDS,
  );
  const widest = MOST_GAIN_DB - LEAST_GAIN_DB;
  checkNumber('stepGain', 'stepDb', stepDb, -widest, widest);
  checkNumber('stepGain', 'mostGainDb', mostGainDb, LEAST_GAIN_DB, MOST_GAIN_DB);
  return changeGain(
    'stepGain',
    list,
    options,
    (region) => {
      const ceiling = Math.max(mostGainDb, region.gainDb);
      return Math.max(LEAST_GAIN_DB, Math.min(region.gainDb + stepDb, ceiling)) + 0;
    },
    { stepDb },
  );
}

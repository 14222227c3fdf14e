import { LEAST_GAIN_DB } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';

/** Settings of tameCymbals; of the choice, `kinds` is `['cymbal']` where neither it nor `ids` is given. */
export interface TameCymbalsOptions extends RegionChoice {
  /** Level that louder strokes are brought down to, in dB re the median of the chosen strokes; −60 to 60. */
  readonly targetDb?: number;
  /** No stroke is cut by more than this, in dB, 0 to 120. */
  readonly mostCutDb?: number;
  /** Every stroke is cut by at least this, in dB, 0 to `mostCutDb`. */
  readonly leastCutDb?: number;
  /** Length of the fade that is complete where the attack begins, in seconds, 0 to 0.1. */
  readonly fadeInSeconds?: number;
  /** How long the full cut is held from the attack on, in seconds, 0 to 1; never more than a third of the stroke. */
  readonly holdSeconds?: number;
  /** Share of the fall of the sound that the gain may take back, 0.1 to 1. */
  readonly returnShare?: number;
}

/**
 * Defaults of tameCymbals (common practice, no source, where nothing else is said): strokes above the median come down to it, by
 * 6 dB at most, the soft ones not at all; 3 ms of fade before the attack, as for an s; 20 ms of hold, about the length of the
 * attack's crest; `returnShare` 0.5: where the sound falls by 12 dB the gain may come back by 6, so that what is heard still
 * falls at least half as fast as it did.
 */
export const DEFAULT_TAME_CYMBALS_OPTIONS: Readonly<Required<Omit<TameCymbalsOptions, keyof RegionChoice>>> =
  Object.freeze({
    targetDb: 0,
    mostCutDb: 6,
    leastCutDb: 0,
    fadeInSeconds: 0.003,
    holdSeconds: 0.02,
    returnShare: 0.5,
  });

/** Settings that have been checked and filled in. */
export type TameCymbalsSettings = Readonly<Required<Omit<TameCymbalsOptions, keyof RegionChoice>>>;

/** Checks the options and fills in the defaults. */
export function tameCymbalsSettings(options: TameCymbalsOptions): TameCymbalsSettings {
  const settings = checkedOptions(
    'tameCymbals',
    DEFAULT_TAME_CYMBALS_OPTIONS,
    options,
    REGION_CHOICE_FIELDS,
  ) as TameCymbalsSettings;
  checkNumber('tameCymbals', 'targetDb', settings.targetDb, -60, 60);
  checkNumber('tameCymbals', 'mostCutDb', settings.mostCutDb, 0, -LEAST_GAIN_DB);
  checkNumber('tameCymbals', 'leastCutDb', settings.leastCutDb, 0, settings.mostCutDb);
  checkNumber('tameCymbals', 'fadeInSeconds', settings.fadeInSeconds, 0, 0.1);
  checkNumber('tameCymbals', 'holdSeconds', settings.holdSeconds, 0, 1);
  checkNumber('tameCymbals', 'returnShare', settings.returnShare, 0.1, 1);
  return settings;
}

import type { LabelledClip } from '../lib/corpus.js';
import { changeSome } from './change-some.js';
import { changedCopies } from './changed-copies.js';
import { madeBreaths } from './made-breaths.js';
import type { TrainingOptions } from './training-options.js';
import { withBreath } from './with-breath.js';
import { withHardOnsets } from './with-hard-onsets.js';

/** What is heard beside the labelled clips themselves. */
export interface AddedClips {
  /** Clips as others might have sung them; held out with the voices that they were made from. */
  readonly copies: readonly LabelledClip[];
  /** What only the network for events hears: clips with a breath before or in them, breaths by themselves, and clips with hard onsets. */
  readonly forEvents: readonly LabelledClip[];
}

/** Makes what training hears in addition. The same seed gives the same. */
export function addedClips(
  clips: readonly LabelledClip[],
  {
    copiedShare,
    breathingShare,
    breathMouths,
    hardOnsetShare,
    seed,
  }: Pick<TrainingOptions, 'copiedShare' | 'breathingShare' | 'breathMouths' | 'hardOnsetShare' | 'seed'>,
): AddedClips {
  return {
    copies: changedCopies(clips, copiedShare, seed),
    forEvents: [
      ...changeSome(clips, breathingShare, 3e5 * seed, withBreath),
      ...madeBreaths(breathMouths, seed),
      ...changeSome(clips, hardOnsetShare, 7e5 * seed, withHardOnsets),
    ],
  };
}

import type { LabelledClip } from '../lib/corpus.js';
import { changedCopies, isComposite } from './changed-copies.js';
import { hasNoVoice } from './has-no-voice.js';
import { madeBreaths } from './made-breaths.js';
import { createRandom, type Random } from './random.js';
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
  const changed = (
    share: number,
    firstSeed: number,
    change: (clip: LabelledClip, random: Random) => LabelledClip,
  ): readonly LabelledClip[] =>
    clips.flatMap((clip, i) => {
      const random = createRandom(firstSeed + i);
      if (random.uniform() >= share || isComposite(clip) || hasNoVoice(clip)) return [];
      return [change(clip, random)];
    });
  return {
    copies: changedCopies(clips, copiedShare, seed),
    forEvents: [
      ...changed(breathingShare, 3e5 * seed, withBreath),
      ...madeBreaths(breathMouths, seed),
      ...changed(hardOnsetShare, 7e5 * seed, withHardOnsets),
    ],
  };
}

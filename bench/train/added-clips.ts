import type { LabelledClip } from '../lib/corpus.js';
import { changedCopies, isComposite } from './changed-copies.js';
import { hasNoVoice } from './has-no-voice.js';
import { madeBreaths } from './made-breaths.js';
import { createRandom } from './random.js';
import type { TrainingOptions } from './training-options.js';
import { withBreath } from './with-breath.js';

/** What is heard beside the labelled clips themselves. */
export interface AddedClips {
  /** Clips as others might have sung them; held out with the voices that they were made from. */
  readonly copies: readonly LabelledClip[];
  /** Breaths by themselves, and clips with one before or in them. */
  readonly breathing: readonly LabelledClip[];
}

/** Makes what training hears in addition. The same seed gives the same. */
export function addedClips(
  clips: readonly LabelledClip[],
  {
    copiedShare,
    breathingShare,
    breathMouths,
    seed,
  }: Pick<TrainingOptions, 'copiedShare' | 'breathingShare' | 'breathMouths' | 'seed'>,
): AddedClips {
  const interrupted = clips.flatMap((clip, i) => {
    const random = createRandom(3e5 * seed + i);
    if (random.uniform() >= breathingShare || isComposite(clip) || hasNoVoice(clip)) return [];
    return [withBreath(clip, random)];
  });
  return {
    copies: changedCopies(clips, copiedShare, seed),
    breathing: [...interrupted, ...madeBreaths(breathMouths, seed)],
  };
}

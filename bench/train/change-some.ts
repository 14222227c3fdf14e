import type { LabelledClip } from '../lib/corpus.js';
import { hasNoVoice } from './has-no-voice.js';
import { isComposite } from './is-composite.js';
import { createRandom, type Random } from './random.js';

/** Makes another clip of one. */
export type Change = (clip: LabelledClip, random: Random) => LabelledClip;

/**
 * Changes each clip with chance `share`; those that are not changed are left out. So are composites and mere breaths, whose edges and
 * levels are what they are for. Clip i has the random numbers of `firstSeed + i`, whatever happens to the others.
 */
export function changeSome(
  clips: readonly LabelledClip[],
  share: number,
  firstSeed: number,
  change: Change,
): readonly LabelledClip[] {
  return clips.flatMap((clip, i) => {
    const random = createRandom(firstSeed + i);
    if (random.uniform() >= share || isComposite(clip) || hasNoVoice(clip)) return [];
    return [change(clip, random)];
  });
}

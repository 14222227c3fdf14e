import type { LabelledClip } from '../lib/corpus.js';
import type { AddedClips } from './added-clips.js';
import { type TrainingClip, trainingClip } from './training-clip.js';

/**
 * Clips made ready for training, the labelled ones first. Made breaths and hard onsets teach events alone: frames that learned from
 * them as well took more of the affricates of unheard voices for bursts, and missed half of the plain t and k of an unheard singer.
 */
export function preparedClips(
  clips: readonly LabelledClip[],
  { copies, forEvents }: AddedClips,
): readonly TrainingClip[] {
  return [
    ...[...clips, ...copies].map((clip) => trainingClip(clip, { teachesFrames: true })),
    ...forEvents.map((clip) => trainingClip(clip, { teachesFrames: false })),
  ];
}

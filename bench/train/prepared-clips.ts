import type { LabelledClip } from '../lib/corpus.js';
import type { AddedClips } from './added-clips.js';
import { type TrainingClip, trainingClip } from './training-clip.js';

/**
 * Clips made ready for training, the labelled ones first. Those with made breaths teach events alone: frames that learned from them
 * as well took more of the affricates of unheard voices for bursts.
 */
export function preparedClips(
  clips: readonly LabelledClip[],
  { copies, breathing }: AddedClips,
): readonly TrainingClip[] {
  return [
    ...[...clips, ...copies].map((clip) => trainingClip(clip, { teachesFrames: true })),
    ...breathing.map((clip) => trainingClip(clip, { teachesFrames: false })),
  ];
}

import type { LabelledClip } from '../lib/corpus.js';
import type { AddedClips } from './added-clips.js';
import type { TrainingOptions } from './training-options.js';

/** Says what a model was made from: command, seed, the clips and minutes of each folder, and what was heard beside them. */
export function originLines(
  clips: readonly LabelledClip[],
  { copies, forEvents }: AddedClips,
  { seed, frames }: TrainingOptions,
  held: readonly string[],
): readonly string[] {
  const folders = [...new Set(clips.map(({ folder }) => folder))];
  return [
    `Made by \`npm run train -- --seed ${seed} --epochs ${frames.epochs} --channels ${frames.channelCount}\`; not to be edited.`,
    ...(held.length > 0 ? [`Held out: ${held.join(', ')}.`] : []),
    'Learned from these folders; docs/model-card.md has their licences:',
    ...folders.map((name) => {
      const own = clips.filter(({ folder }) => folder === name);
      return `${name}: ${own.length} clips, ${minutes(own)} minutes`;
    }),
    ...(copies.length > 0
      ? [
          `${copies.length} of these clips were heard as others might have sung them, too: ${minutes(copies)} minutes`,
        ]
      : []),
    ...(forEvents.length > 0
      ? [
          `Events of ${forEvents.length} more, with breaths made out of noise or hard onsets of vowels: ${minutes(forEvents)} minutes`,
        ]
      : []),
  ];
}

function minutes(clips: readonly LabelledClip[]): string {
  return (clips.reduce((sum, { durationSeconds }) => sum + durationSeconds, 0) / 60).toFixed(1);
}

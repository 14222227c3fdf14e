import type { TrainingClip } from './training-clip.js';
import type { TrainingOptions } from './training-options.js';

/** Says what a model was made from: command, seed, the clips and minutes of each folder, and how many were heard as others, too. */
export function originLines(
  clips: readonly TrainingClip[],
  copies: readonly TrainingClip[],
  { seed, frames }: TrainingOptions,
  held: readonly string[],
): readonly string[] {
  const minutes = new Map<string, { clips: number; minutes: number }>();
  for (const { folder, frameCount, hopSeconds } of clips) {
    const sum = minutes.get(folder) ?? { clips: 0, minutes: 0 };
    minutes.set(folder, { clips: sum.clips + 1, minutes: sum.minutes + (frameCount * hopSeconds) / 60 });
  }
  const copiedMinutes = copies.reduce((sum, clip) => sum + clip.frameCount * clip.hopSeconds, 0) / 60;
  return [
    `Made by \`npm run train -- --seed ${seed} --epochs ${frames.epochs} --channels ${frames.channelCount}\`; not to be edited.`,
    ...(held.length > 0 ? [`Held out: ${held.join(', ')}.`] : []),
    'Learned from these folders; docs/model-card.md has their licences:',
    ...[...minutes].map(
      ([folder, sum]) => `${folder}: ${sum.clips} clips, ${sum.minutes.toFixed(1)} minutes`,
    ),
    ...(copies.length > 0
      ? [
          `${copies.length} of these clips were heard as others might have sung them, too: ${copiedMinutes.toFixed(1)} minutes`,
        ]
      : []),
  ];
}

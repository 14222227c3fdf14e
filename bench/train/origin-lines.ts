import type { TrainingClip } from './training-clip.js';
import type { TrainingOptions } from './training-options.js';

/** Says what a model was made from: command, seed, and the clips and minutes of each folder. */
export function originLines(
  clips: readonly TrainingClip[],
  { seed, frames }: TrainingOptions,
  held: readonly string[],
): readonly string[] {
  const minutes = new Map<string, { clips: number; minutes: number }>();
  for (const { folder, frameCount, hopSeconds } of clips) {
    const sum = minutes.get(folder) ?? { clips: 0, minutes: 0 };
    minutes.set(folder, { clips: sum.clips + 1, minutes: sum.minutes + (frameCount * hopSeconds) / 60 });
  }
  return [
    `Made by \`npm run train -- --seed ${seed} --epochs ${frames.epochs} --channels ${frames.channelCount}\`; not to be edited.`,
    ...(held.length > 0 ? [`Held out: ${held.join(', ')}.`] : []),
    'Learned from these folders; docs/model-card.md has their licences:',
    ...[...minutes].map(
      ([folder, sum]) => `${folder}: ${sum.clips} clips, ${sum.minutes.toFixed(1)} minutes`,
    ),
  ];
}

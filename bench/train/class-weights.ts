import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { classNumber, UNKNOWN } from './labelled-frames.js';
import type { TrainingClip } from './training-clip.js';
import type { FrameTrainingOptions } from './training-options.js';

/** Added to each count, so that a class that hardly occurs is not overrated. */
const COUNT_OFFSET = 1000;

/** What a frame of each class counts in the loss: rare ones more, though less than their rarity would ask. */
export function classWeights(
  clips: readonly TrainingClip[],
  { classWeightPower, mostClassWeight }: FrameTrainingOptions,
): readonly number[] {
  const counts = FRAME_CLASSES.map(() => 0);
  for (const { targets } of clips)
    for (const target of targets) if (target !== UNKNOWN) counts[target] = (counts[target] as number) + 1;
  const voiced = Math.max(1, counts[classNumber('voiced')] as number);
  return counts.map((count) =>
    Math.min(mostClassWeight, (voiced / (count + COUNT_OFFSET)) ** classWeightPower),
  );
}

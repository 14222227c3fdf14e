import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { type PhoneFigures, phoneFigures } from '../../../src/evaluation/phone-figures.js';
import { createRandom } from '../../train/random.js';
import type { LabelledClip } from '../corpus.js';
import { type ClipDetector, type FolderScore, scoreClips } from '../score-folder.js';
import type { EndCondition } from './end-condition.js';

/** What the detector made of a condition. */
export interface ConditionScore {
  readonly name: string;
  readonly figures: PhoneFigures;
  /** Regions of any kind for a minute of sound, and those of a harsh kind. */
  readonly regionsPerMinute: number;
  readonly harshPerMinute: number;
  /** Strict F1 of each folder; null where it has no labels. */
  readonly folderF1: ReadonlyMap<string, number | null>;
}

/** Default settings, as everybody starts. */
export const DEFAULT_DETECTOR: ClipDetector = ({ channels, sampleRateHz }) =>
  detectConsonants(channels, { sampleRateHz }).regions;

/** Changes each clip, a stream of random numbers to each, and scores what is found in it. */
export function scoreCondition(
  condition: Pick<EndCondition, 'name' | 'change'>,
  clips: readonly LabelledClip[],
  seed: number,
  detect: ClipDetector = DEFAULT_DETECTOR,
): ConditionScore {
  const changed = clips.map((clip, i) => condition.change(clip, createRandom(seed + i)));
  const folders = [...new Set(clips.map(({ folder }) => folder))];
  const scores = folders.map((folder) =>
    scoreClips(
      folder,
      changed.filter((clip) => clip.folder === folder),
      detect,
    ),
  );
  return conditionScore(condition.name, scores);
}

/** The figures of all folders together and of each. */
export function conditionScore(name: string, scores: readonly FolderScore[]): ConditionScore {
  const all = scores.flatMap(({ tallies }) => tallies);
  const figures = phoneFigures(all.map(({ tally }) => tally));
  const minutes = figures.durationSeconds / 60;
  const regions = all.reduce((sum, tally) => sum + tally.regions.length, 0);
  return {
    name,
    figures,
    regionsPerMinute: regions / minutes,
    harshPerMinute: figures.harshRegions / minutes,
    folderF1: new Map(scores.map(({ folder, figures: own }) => [folder, own.strictF1])),
  };
}

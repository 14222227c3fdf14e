import { phoneFigures } from '../../src/evaluation/phone-figures.js';
import type { LabelledClip } from './corpus.js';
import { type ClipDetector, type FolderScore, scoreClips } from './score-folder.js';

/** Makes a detector from clips that it may learn from; `heldOut` names the group that it will be judged by. */
export type Trainer = (training: readonly LabelledClip[], heldOut: string) => ClipDetector;

/** Voices that are held out together: all voices of a folder. */
export function eachFolder(voice: string): string {
  return voice.split(':')[0] ?? voice;
}

/**
 * Scores each group of voices with a detector that was trained without them: without every clip in which one of them can
 * be heard, composites included. A composite of several groups is judged by a detector trained without any of them, so
 * there is one training per combination of groups. Returns one score per folder.
 */
export function scoreHeldOut(
  clips: readonly LabelledClip[],
  groupOf: (voice: string) => string,
  train: Trainer,
): readonly FolderScore[] {
  const groupsOf = (clip: LabelledClip): string[] => [...new Set(clip.voices.map(groupOf))].sort();
  const byGroups = new Map<string, LabelledClip[]>();
  for (const clip of clips) {
    const key = groupsOf(clip).join(' + ');
    byGroups.set(key, [...(byGroups.get(key) ?? []), clip]);
  }
  const tallies: FolderScore['tallies'][number][] = [];
  for (const [key, judged] of byGroups) {
    const held = new Set(groupsOf(judged[0] as LabelledClip));
    const training = clips.filter((clip) => !groupsOf(clip).some((group) => held.has(group)));
    tallies.push(...scoreClips(key, judged, train(training, key)).tallies);
  }
  const folders = [...new Set(clips.map((clip) => clip.folder))];
  return folders.map((folder) => {
    const own = tallies.filter(({ clip }) => clip.folder === folder);
    return { folder, figures: phoneFigures(own.map(({ tally }) => tally)), tallies: own };
  });
}

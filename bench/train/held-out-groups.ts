import type { LabelledClip } from '../lib/corpus.js';

/** Speakers of this folder are many: a sixth of them is judged by what the other five taught. */
const PARTED_FOLDER = 'an4';
const PART_COUNT = 6;

/** Voices that are held out together: those of a folder, and of an4 every sixth speaker. */
export function heldOutGroups(clips: readonly Pick<LabelledClip, 'voices'>[]): (voice: string) => string {
  const voices = new Set(clips.flatMap((clip) => clip.voices));
  const parted = [...voices].filter((voice) => voice.startsWith(`${PARTED_FOLDER}:`)).sort();
  return (voice) => {
    const place = parted.indexOf(voice);
    return place < 0 ? (voice.split(':')[0] ?? voice) : `${PARTED_FOLDER} ${(place % PART_COUNT) + 1}`;
  };
}

/** First parts first, each kind in the order given: parting a folder more finely leaves the numbers of all other groups as they are. */
export function inOrderOfPart(groups: readonly string[]): readonly string[] {
  const part = (group: string): number => Number(/ (\d+)$/.exec(group)?.[1] ?? 1);
  return [...groups].sort((a, b) => part(a) - part(b));
}

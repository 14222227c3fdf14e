import type { LabelledClip } from '../lib/corpus.js';

/** Speakers of this folder are many: a sixth of them is judged by what the other five taught. */
const PARTED_FOLDER = 'an4';
const PART_COUNT = 6;
/** What no figure is told of needs no network of its own. */
const TEACHING_GROUP = 'voices that only teach';
/** Of the recordings of a folder a fifth is judged by what all others taught. */
const RECORDING_PARTS = 5;

/** The groups that a clip is held out with, its own first: several for a composite. */
export type GroupsOf = (clip: Pick<LabelledClip, 'voices' | 'recordings'>) => readonly string[];

/** Voices that are held out together: those of a folder, and of an4 every sixth speaker; and all that are not scored, but only teach. */
export function voiceGroups(
  clips: readonly Pick<LabelledClip, 'voices'>[],
  scored: ReadonlySet<string>,
): GroupsOf {
  const groupOf = heldOutGroups(clips, scored);
  return ({ voices }) => voices.map(groupOf);
}

/** Recordings that are held out together: every fifth of each folder, in order of name. All voices are heard, but not in these. */
export function recordingGroups(clips: readonly Pick<LabelledClip, 'recordings'>[]): GroupsOf {
  const groups = new Map<string, string>();
  const counts = new Map<string, number>();
  for (const recording of [...new Set(clips.flatMap((clip) => clip.recordings))].sort()) {
    const folder = recording.split('/')[0] as string;
    const before = counts.get(folder) ?? 0;
    counts.set(folder, before + 1);
    groups.set(recording, `recordings ${(before % RECORDING_PARTS) + 1}`);
  }
  return ({ recordings }) => recordings.map((recording) => groups.get(recording) as string);
}

/** The group of a voice; `scored` are the folders whose voices are not only there to teach. */
export function heldOutGroups(
  clips: readonly Pick<LabelledClip, 'voices'>[],
  scored: ReadonlySet<string>,
): (voice: string) => string {
  const voices = new Set(clips.flatMap((clip) => clip.voices));
  const parted = [...voices].filter((voice) => voice.startsWith(`${PARTED_FOLDER}:`)).sort();
  return (voice) => {
    const place = parted.indexOf(voice);
    const folder = voice.split(':')[0] as string;
    if (!scored.has(folder)) return TEACHING_GROUP;
    return place < 0 ? folder : `${PARTED_FOLDER} ${(place % PART_COUNT) + 1}`;
  };
}

/** First parts first, each kind in the order given: parting a folder more finely leaves the numbers of all other groups as they are. */
export function inOrderOfPart(groups: readonly string[]): readonly string[] {
  const part = (group: string): number => Number(/ (\d+)$/.exec(group)?.[1] ?? 1);
  return [...groups].sort((a, b) => part(a) - part(b));
}

import type { LabelledClip } from '../lib/corpus.js';

/** Speakers of this folder are many and alike in recording: one half of them is judged by what the others taught. */
const HALVED_FOLDER = 'an4';

/** Voices that are held out together: those of a folder, and of an4 every other speaker. */
export function heldOutGroups(clips: readonly Pick<LabelledClip, 'voices'>[]): (voice: string) => string {
  const voices = new Set(clips.flatMap((clip) => clip.voices));
  const halved = [...voices].filter((voice) => voice.startsWith(`${HALVED_FOLDER}:`)).sort();
  return (voice) => {
    const place = halved.indexOf(voice);
    return place < 0 ? (voice.split(':')[0] ?? voice) : `${HALVED_FOLDER} ${place % 2 === 0 ? 'a' : 'b'}`;
  };
}

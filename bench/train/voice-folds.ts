import type { TrainingClip } from './training-clip.js';

/** What is needed of a clip to share it out. */
export type SharedOut = Pick<TrainingClip, 'voice' | 'voices' | 'frameCount' | 'teachesFrames'>;

/** Clips to train on and clips to collect events from, by their place in the list. */
export interface VoiceFold {
  readonly train: readonly number[];
  readonly collect: readonly number[];
}

/**
 * Shares out voices so that every clip is collected once by a network that never heard its voice. The longest voice
 * goes first, each to the fold that has least. A composite goes with the voice of its vowels and consonants, and
 * trains no network whose fold holds any voice in it; a clip that does not teach frames trains none.
 *
 * Voices in `shared` are heard by every network all the same: those that only breathe. With one such voice a network
 * that never heard it knows no breath at all, and events would teach that breaths cannot be told.
 */
export function voiceFolds(
  clips: readonly SharedOut[],
  foldCount: number,
  shared: ReadonlySet<string> = new Set(),
): readonly VoiceFold[] {
  const frames = new Map<string, number>();
  for (const { voice, frameCount, teachesFrames } of clips)
    frames.set(voice, (frames.get(voice) ?? 0) + (teachesFrames ? frameCount : 0));
  const voiceCount = [...frames.values()].filter((length) => length > 0).length;
  const count = Math.min(foldCount, voiceCount);
  if (count < 2)
    throw new RangeError(`two voices are needed to judge events by unheard ones; received ${voiceCount}`);
  const loads = Array.from({ length: count }, () => 0);
  const foldOf = new Map<string, number>();
  // Names decide between equal lengths, so that the order of folders does not matter.
  const longestFirst = [...frames].sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1));
  for (const [voice, length] of longestFirst) {
    const fold = loads.indexOf(Math.min(...loads));
    foldOf.set(voice, fold);
    loads[fold] = (loads[fold] as number) + length;
  }
  return loads.map((_, fold) => {
    const places = clips.map((_, i) => i);
    const isIn = (voice: string): boolean => foldOf.get(voice) === fold;
    return {
      train: places.filter(
        (i) =>
          (clips[i] as SharedOut).teachesFrames &&
          !(clips[i] as SharedOut).voices.some((voice) => isIn(voice) && !shared.has(voice)),
      ),
      collect: places.filter((i) => isIn((clips[i] as SharedOut).voice)),
    };
  });
}

import { resample } from '../../test/lib/resample.js';
import type { LabelledClip } from '../lib/corpus.js';
import { changeTempo } from '../lib/ends/change-tempo.js';
import { changedClip } from '../lib/ends/changed-clip.js';
import { falsetto } from '../lib/ends/falsetto.js';
import { whisper } from '../lib/ends/whisper.js';
import { hasNoVoice } from './has-no-voice.js';
import { createRandom, type Random } from './random.js';

type Change = (clip: LabelledClip, random: Random) => LabelledClip;

/** Ratios at which a clip is played faster: a smaller mouth, a higher and quicker voice. */
const SMALLER_MOUTHS: readonly (readonly [number, number])[] = [
  [13, 10],
  [6, 5],
  [8, 7],
];

/** What a copy is, and how many in a hundred. Made by sums on samples: band powers do not tell partials apart. */
const CHANGES: readonly (readonly [number, Change])[] = [
  [35, (clip) => changedClip(clip, falsetto(samplesOf(clip), clip.sampleRateHz))],
  [25, (clip, random) => playedFaster(clip, oneOf(SMALLER_MOUTHS, random))],
  [25, (clip, random) => atTempo(clip, 1.25 + 0.45 * random.uniform())],
  [15, brightWhisper],
];

/**
 * Clips as others might have sung them: an octave higher, by a child, fast or in a bright whisper.
 * A clip has a copy with chance `share`, whose labels are moved along; composites and mere breaths have none, since
 * their edges and levels are what they are for. The same seed gives the same copies.
 */
export function changedCopies(
  clips: readonly LabelledClip[],
  share: number,
  seed: number,
): readonly LabelledClip[] {
  return clips.flatMap((clip, i) => {
    const random = createRandom(1e5 * seed + i);
    if (random.uniform() >= share || isComposite(clip) || hasNoVoice(clip)) return [];
    return [pick(random.uniform())(clip, random)];
  });
}

/** The change at a place from 0 to 1, each as wide as its share. */
function pick(place: number): Change {
  let before = 0;
  for (const [percent, change] of CHANGES) {
    before += percent / 100;
    if (place < before) return change;
  }
  return CHANGES[0]?.[1] as Change;
}

/** Whether a clip is made of excerpts of others: its voice comes from another folder. */
export function isComposite({ voice, folder }: LabelledClip): boolean {
  return voice.split(':')[0] !== folder;
}

function samplesOf({ channels }: LabelledClip): Float32Array {
  return channels[0] as Float32Array;
}

function oneOf<T>(list: readonly T[], random: Random): T {
  return list[Math.floor(random.uniform() * list.length)] as T;
}

function playedFaster(clip: LabelledClip, [from, to]: readonly [number, number]): LabelledClip {
  return changedClip(clip, resample(samplesOf(clip), from, to), { timeScale: to / from });
}

function atTempo(clip: LabelledClip, factor: number): LabelledClip {
  return changedClip(clip, changeTempo(samplesOf(clip), clip.sampleRateHz, factor), {
    timeScale: 1 / factor,
  });
}

function brightWhisper(clip: LabelledClip, random: Random): LabelledClip {
  const samples = whisper(samplesOf(clip), clip.sampleRateHz, random, { levelDb: -12, brightDb: 12 });
  return changedClip(clip, samples);
}

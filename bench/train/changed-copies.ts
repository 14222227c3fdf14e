import { resample } from '../../test/lib/resample.js';
import type { LabelledClip } from '../lib/corpus.js';
import { changeTempo } from '../lib/ends/change-tempo.js';
import { changedClip } from '../lib/ends/changed-clip.js';
import { falsetto } from '../lib/ends/falsetto.js';
import { whisper } from '../lib/ends/whisper.js';
import { type Change, changeSome } from './change-some.js';
import type { Random } from './random.js';

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
 * A clip of a voice has a copy with chance `share`, whose labels are moved along. The same seed gives the same copies.
 */
export function changedCopies(
  clips: readonly LabelledClip[],
  share: number,
  seed: number,
): readonly LabelledClip[] {
  return changeSome(clips, share, 1e5 * seed, (clip, random) => pick(random.uniform())(clip, random));
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

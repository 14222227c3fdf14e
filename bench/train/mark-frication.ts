import type { LabelledPhone } from '../lib/corpus.js';
import { classNumber, frameAt, type LabelledFrames, mark, UNKNOWN } from './labelled-frames.js';

/** How a kind of frication is found about its label. */
interface Frication {
  readonly target: number;
  /** How far outside its label it may reach, in seconds. */
  readonly reachSeconds: number;
  /** It lasts while the level above 3 kHz is within this of its peak, in dB. */
  readonly depthDb: number;
}

const SIBILANT: Frication = { target: classNumber('sibilant'), reachSeconds: 0.04, depthDb: 10 };
const FRICATIVE: Frication = { target: classNumber('fricative'), reachSeconds: 0.02, depthDb: 9 };

/** It ends where the vowel level rises so far above the one at its middle and near a loud vowel, in dB. */
const VOWEL_RISE_DB = 9;
const VOWEL_DEPTH_DB = 16;
/** Vowel levels further below a loud vowel than this are all alike. */
const LEAST_VOWEL_DB = 45;
/** Share of the vowel level that counts against a frame as the middle of an s: the vowel beside may be louder above 3 kHz. */
const VOWEL_SHARE = 0.5;
/** Where labels lag, so many frames before one are looked at too. */
const LAG_FRAMES = 6;
/** So many frames below the depth are passed over. */
const MOST_DIP_FRAMES = 2;
/** What lies this close to a label or to its noise is unknown. */
const UNKNOWN_SECONDS = 0.02;
const UNKNOWN_FRAMES = 3;

/** v and dh may be noise, voice or both: their labels and so much beside them stay unknown. */
const VOICED_FRICATIVE_SECONDS = 0.015;

/** Marks sibilants and voiceless fricatives where their noise is, and leaves their surroundings unknown. */
export function markFrication(frames: LabelledFrames): void {
  for (const label of frames.labels) {
    if (label.phoneClass === 'sibilant') markOne(frames, label, SIBILANT);
    else if (label.phoneClass === 'fricative' && !label.voiced) markOne(frames, label, FRICATIVE);
    else if (label.phoneClass === 'fricative') {
      const from = frameAt(frames, label.startSeconds - VOICED_FRICATIVE_SECONDS);
      mark(frames, from, frameAt(frames, label.endSeconds + VOICED_FRICATIVE_SECONDS), UNKNOWN);
    }
  }
}

function markOne(frames: LabelledFrames, label: LabelledPhone, kind: Frication): void {
  const { high } = frames.levels;
  const { startSeconds, endSeconds } = label;
  const from = Math.max(0, frameAt(frames, startSeconds));
  const to = Math.min(high.length, frameAt(frames, endSeconds) + 1);
  if (to <= from) return;
  const quietest = frames.levels.loudVowel - LEAST_VOWEL_DB;
  const vowelAt = (t: number): number => Math.max(frames.levels.vowel[t] as number, quietest);
  const share = kind === SIBILANT ? VOWEL_SHARE : 0;
  const merit = (t: number): number => (high[t] as number) - share * vowelAt(t);
  let peak = from;
  for (let t = Math.max(0, from - (frames.edgesLag ? LAG_FRAMES : 0)); t < to; t++)
    if (merit(t) > merit(peak)) peak = t;

  const reach = frames.exactEdges ? 0 : kind.reachSeconds;
  const least = (high[peak] as number) - kind.depthDb;
  const first = lastNoisy(frames, peak, least, {
    step: -1,
    bound: Math.max(0, frameAt(frames, startSeconds - reach)),
    vowelAt,
  });
  const last = lastNoisy(frames, peak, least, {
    step: 1,
    bound: Math.min(high.length, frameAt(frames, endSeconds + reach)) - 1,
    vowelAt,
  });
  mark(
    frames,
    Math.min(frameAt(frames, startSeconds - UNKNOWN_SECONDS), first - UNKNOWN_FRAMES),
    Math.max(frameAt(frames, endSeconds + UNKNOWN_SECONDS), last + 1 + UNKNOWN_FRAMES),
    UNKNOWN,
  );
  mark(frames, first, last + 1, kind.target);
}

interface Walk {
  readonly step: number;
  readonly bound: number;
  readonly vowelAt: (t: number) => number;
}

/** Walks from a peak to a bound and gives the last frame above a level: short dips are passed over, a vowel is not. */
function lastNoisy(
  frames: LabelledFrames,
  peak: number,
  least: number,
  { step, bound, vowelAt }: Walk,
): number {
  const { high, loudVowel } = frames.levels;
  const voiced = (t: number): boolean =>
    vowelAt(t) > vowelAt(peak) + VOWEL_RISE_DB && vowelAt(t) > loudVowel - VOWEL_DEPTH_DB;
  let last = peak;
  let dip = 0;
  for (let t = peak; step * (bound - t) >= 0; t += step) {
    if (Math.abs(t - peak) > 1 && voiced(t)) break;
    if ((high[t] as number) > least) {
      last = t;
      dip = 0;
    } else if (++dip > MOST_DIP_FRAMES) break;
  }
  return last;
}

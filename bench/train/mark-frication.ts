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

/** Outside its label it ends where the voice comes within the first of a loud vowel and above the noise by the second, in dB. */
const VOWEL_DEPTH_DB = 14;
const VOWEL_OVER_NOISE_DB = 2;
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
  let peak = from;
  for (let t = from; t < to; t++) if ((high[t] as number) > (high[peak] as number)) peak = t;

  const reach = frames.exactEdges ? 0 : kind.reachSeconds;
  const least = (high[peak] as number) - kind.depthDb;
  const first = lastNoisy(frames, peak, least, {
    step: -1,
    bound: Math.max(0, frameAt(frames, startSeconds - reach)),
    labelEdge: frameAt(frames, startSeconds),
  });
  const last = lastNoisy(frames, peak, least, {
    step: 1,
    bound: Math.min(high.length, frameAt(frames, endSeconds + reach)) - 1,
    labelEdge: frameAt(frames, endSeconds) - 1,
  });
  mark(
    frames,
    Math.min(frameAt(frames, startSeconds - UNKNOWN_SECONDS), first - UNKNOWN_FRAMES),
    Math.max(frameAt(frames, endSeconds + UNKNOWN_SECONDS), last + 1 + UNKNOWN_FRAMES),
    UNKNOWN,
  );
  mark(frames, first, last + 1, kind.target);
}

/** Walks from a peak to a bound and gives the last frame above a level: short dips are passed over, a vowel outside the label is not. */
function lastNoisy(
  frames: LabelledFrames,
  peak: number,
  least: number,
  { step, bound, labelEdge }: { readonly step: number; readonly bound: number; readonly labelEdge: number },
): number {
  const { low, high, loudLow } = frames.levels;
  let last = peak;
  let dip = 0;
  for (let t = peak; step * (bound - t) >= 0; t += step) {
    const voice = low[t] as number;
    const noise = high[t] as number;
    const outside = step * (t - labelEdge) > 0;
    if (outside && voice > loudLow - VOWEL_DEPTH_DB && voice > noise + VOWEL_OVER_NOISE_DB) break;
    if (noise > least) {
      last = t;
      dip = 0;
    } else if (++dip > MOST_DIP_FRAMES) break;
  }
  return last;
}

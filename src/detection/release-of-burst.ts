import { FRAME_CLASSES } from './detection-scale.js';
import { bandPower, type FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

const CLASSES = FRAME_CLASSES.length;
/**
 * Two groups of bands that are loud in a voice: 80–300 Hz (its fundamental) and 300 Hz to 1.65 kHz (its first
 * formants). Neither tells alone: a voiced closure is loud in the first, the release of a t before "ee" in the second.
 */
const FIRST_FORMANT_BAND = 1;
const END_FORMANT_BAND = 6;
/** Frames after a burst in which its vowel comes to its level. */
const AHEAD_FRAMES = 8;
/** The voice has begun where both groups have this share of their power ahead: 10 dB less. */
const BEGUN_SHARE = 0.1;
/** Frames before a burst that may belong to it: a release is quieter than the vowel that hides it. */
const BEFORE_FRAMES = 2;

/**
 * The part of a burst before the voice begins. What makes a burst certain is often the vowel that starts right
 * after it; a region that reached into that vowel would shave it. Where no voice follows, the span stays as it is.
 */
export function releaseOfBurst(tables: FrameTables, span: NoiseSpan): NoiseSpan {
  const { track, rowCount } = tables;
  const until = Math.min(rowCount, span.end + AHEAD_FRAMES);
  let voiced = 0;
  for (let t = span.end - 1; t < until; t++) voiced = Math.max(voiced, track[t * CLASSES] as number);
  if (voiced < 0.5) return span;
  const start = Math.max(0, span.start - BEFORE_FRAMES);
  /** The first frame from this one on in which a group has begun. */
  const begins = (from: number, first: number, end: number): number => {
    let loudest = 0;
    for (let t = span.start; t < until; t++) loudest = Math.max(loudest, bandPower(tables, t, first, end));
    let t = from;
    while (t < span.end && bandPower(tables, t, first, end) < BEGUN_SHARE * loudest) t++;
    return t;
  };
  const end = begins(begins(start, 0, FIRST_FORMANT_BAND), FIRST_FORMANT_BAND, END_FORMANT_BAND);
  return { ...span, start, end: Math.max(end, start + BEFORE_FRAMES + 1) };
}

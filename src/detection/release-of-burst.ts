import { FRAME_CLASSES } from './detection-scale.js';
import { bandLevels, type FrameTables } from './event-measures.js';
import type { NoiseSpan } from './noise-spans.js';

const CLASSES = FRAME_CLASSES.length;
/** Bands of 300 Hz to 1.65 kHz: loud in a vowel, not in a burst. */
const FIRST_VOWEL_BAND = 1;
const END_VOWEL_BAND = 6;
/** Frames after a burst in which its vowel comes to its level. */
const AHEAD_FRAMES = 8;
/** The voice has begun where the vowel bands come this near to their level ahead, in dB. */
const BEGUN_DB = 10;
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
  const vowel = bandLevels(tables, FIRST_VOWEL_BAND, END_VOWEL_BAND);
  let loudest = Number.NEGATIVE_INFINITY;
  for (let t = span.start; t < until; t++) loudest = Math.max(loudest, vowel[t] as number);
  const start = Math.max(0, span.start - BEFORE_FRAMES);
  let end = start;
  while (end < span.end && (vowel[end] as number) < loudest - BEGUN_DB) end++;
  return { ...span, start, end: Math.max(end, start + BEFORE_FRAMES + 1) };
}

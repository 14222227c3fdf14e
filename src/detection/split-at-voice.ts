import { BAND_COUNT } from './detection-scale.js';
import { bandPower, DB_PER_NEPER, type FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** The voice: below 1.65 kHz. The noise: above 3.5 kHz. */
const END_VOICE_BAND = 6;
const FIRST_NOISE_BAND = 10;
/** A vowel between two noises: for so many dB the high bands give way to the low ones, from both sides. */
const LEAST_DIP_DB = 12;
/** And for so many frames: a pulse of creaky voice is shorter. */
const LEAST_DIP_FRAMES = 3;

/**
 * Takes a short vowel out of a stretch of noise: in a fast "chisa" the i is so bright and short that all of it was one
 * stretch. Between its two noises the balance of high to low bands dips. Parts come in order; without a dip, the one given.
 */
export function splitAtVoice(tables: FrameTables, part: NoiseSpan): readonly NoiseSpan[] {
  const frames = part.end - part.start;
  const balance = new Float64Array(frames);
  for (let i = 0; i < frames; i++) {
    const high = bandPower(tables, part.start + i, FIRST_NOISE_BAND, BAND_COUNT);
    balance[i] = DB_PER_NEPER * Math.log(high / bandPower(tables, part.start + i, 0, END_VOICE_BAND));
  }
  const after = new Float64Array(frames);
  let most = Number.NEGATIVE_INFINITY;
  for (let i = frames - 1; i >= 0; i--) after[i] = most = Math.max(most, balance[i] as number);
  const parts: NoiseSpan[] = [];
  let from = part.start;
  let dip = 0;
  let before = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < frames; i++) {
    before = Math.max(before, balance[i] as number);
    if (
      (balance[i] as number) < 0 &&
      Math.min(before, after[i] as number) - (balance[i] as number) >= LEAST_DIP_DB
    ) {
      dip++;
      continue;
    }
    if (dip >= LEAST_DIP_FRAMES) {
      parts.push({ ...part, start: from, end: part.start + i - dip });
      from = part.start + i;
      before = balance[i] as number;
    }
    dip = 0;
  }
  return [...parts, { ...part, start: from }];
}

import { BAND_COUNT } from './detection-scale.js';
import { bandPower, type FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** The voice: below 1.65 kHz. The noise: above 3.5 kHz. */
const END_VOICE_BAND = 6;
const FIRST_NOISE_BAND = 10;
/** A vowel between two noises: by so much, 12 dB, the high bands give way to the low ones, from both sides. */
const LEAST_DIP = 10 ** 1.2;
/** And for so many frames: a pulse of creaky voice is shorter. */
const LEAST_DIP_FRAMES = 3;

/**
 * Takes a short vowel out of a stretch of noise: in a fast "chisa" the i is so bright and short that all of it was one
 * stretch. Between its two noises the ratio of high to low bands dips. Parts come in order; without a dip, the one given.
 */
export function splitAtVoice(tables: FrameTables, part: NoiseSpan): readonly NoiseSpan[] {
  const ratios: number[] = [];
  for (let t = part.start; t < part.end; t++)
    ratios.push(bandPower(tables, t, FIRST_NOISE_BAND, BAND_COUNT) / bandPower(tables, t, 0, END_VOICE_BAND));
  const after = ratios.slice();
  for (let i = ratios.length - 2; i >= 0; i--)
    after[i] = Math.max(after[i] as number, after[i + 1] as number);
  const parts: NoiseSpan[] = [];
  let from = part.start;
  let dip = 0;
  let before = 0;
  for (let i = 0; i < ratios.length; i++) {
    const here = ratios[i] as number;
    before = Math.max(before, here);
    if (here < 1 && Math.min(before, after[i] as number) >= LEAST_DIP * here) {
      dip++;
      continue;
    }
    if (dip >= LEAST_DIP_FRAMES) {
      parts.push({ ...part, start: from, end: part.start + i - dip });
      from = part.start + i;
      before = here;
    }
    dip = 0;
  }
  return [...parts, { ...part, start: from }];
}

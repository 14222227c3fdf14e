import { LOW_BAND_COUNT } from './detection-scale.js';
import { bandPower } from './frame-tables.js';
import type { RowStore } from './row-store.js';

/** Frames to each side of a stretch that are searched for the voice: 0.6 s, in which a singer who caught a breath sings on. */
export const REST_REACH_FRAMES = 112;
/** Frames to each side in which a voice would lean on it: 43 ms. */
const BESIDE_FRAMES = 8;
/**
 * A voice rests where it has less than this share of its power near by: 25 dB less. Of 1,651 finds called fricative eleven of 60 ms and more
 * lie so, and of the quick breaths of an unheard singer that were called so, 11 of 15 (docs/misses.md).
 */
const RESTING_SHARE = 10 ** -2.5;
/** The voice is asked for from 300 Hz to 1 kHz: below lies the rumble of a room too. */
const FIRST_BAND = 1;

/**
 * Whether the voice rests on both sides of a stretch, and sounds within 0.6 s. An f leans on a voice, on one side at least; a breath
 * that is caught between two notes does not, however bright it is. Beyond the ends of the clip there is silence.
 *
 * @param bands band powers, a row per frame
 * @param span edges in frames, fractions allowed; a frame stands for half a hop to each side of it
 */
export function isBetweenRests(
  bands: RowStore,
  { start, end }: { readonly start: number; readonly end: number },
): boolean {
  const from = Math.max(bands.first, Math.ceil(start) - REST_REACH_FRAMES);
  const until = Math.min(bands.end, Math.floor(end) + 1 + REST_REACH_FRAMES);
  const rows = { bands: bands.data.subarray(bands.at(from), bands.at(until)) };
  let loudest = 0;
  let beside = 0;
  for (let t = from; t < until; t++) {
    if (t > start - 0.5 && t < end + 0.5) continue;
    const power = bandPower(rows, t - from, FIRST_BAND, LOW_BAND_COUNT);
    loudest = Math.max(loudest, power);
    if (t >= start - BESIDE_FRAMES && t <= end + BESIDE_FRAMES) beside = Math.max(beside, power);
  }
  return beside < RESTING_SHARE * loudest;
}

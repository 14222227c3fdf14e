import type { FrameLevels } from './frame-levels.js';

/** Where the noise of a release is. */
export interface BurstCore {
  readonly first: number;
  readonly last: number;
  /** Level at its peak, in dB, and the levels that it was read from. */
  readonly peakLevel: number;
  readonly levels: Float64Array;
}

/** A burst lasts while its level is within this of its peak, in dB. */
const DEPTH_DB = 9;
/** Frames before the peak, and in all, that a burst lasts at most: 10 frames are 53 ms. */
const MOST_FRAMES_BEFORE_PEAK = 6;
const MOST_FRAMES = 10;
/** Least rise out of the closure within CLOSURE_FRAMES, in dB. */
const LEAST_RISE_DB = 8;
const CLOSURE_FRAMES = 12;
/** A peak so far below the level of the voice is the voice's own, in dB. */
const MOST_VOICE_DB = 22;

/**
 * Finds the release of a stop within [from, to): the steepest rise, loud ones before soft ones, before voicing sets
 * in; or undefined where nothing rises enough to be one. A t (`tongueTip`) is released above 3 kHz, p and k from
 * 1.3 kHz on.
 */
export function burstCore(
  levels: FrameLevels,
  from: number,
  to: number,
  tongueTip: boolean,
): BurstCore | undefined {
  const { low, loudLow } = levels;
  const band = tongueTip ? levels.high : levels.middle;
  const at = (t: number): number => band[t] as number;
  /** How far the voice stands above the burst's band, where there is a voice. */
  const voiceAbove = (t: number): number =>
    (low[t] as number) > loudLow - 14 ? (low[t] as number) - at(t) : Number.NEGATIVE_INFINITY;

  let peak = steepestRise(levels, band, from, to, voiceAbove);
  for (let t = peak, end = Math.min(to, peak + 3); t < end; t++) if (at(t) > at(peak)) peak = t;
  let floor = Number.POSITIVE_INFINITY;
  for (let t = Math.max(0, peak - CLOSURE_FRAMES); t < peak; t++) floor = Math.min(floor, at(t));
  const peakLevel = at(peak);
  if (peakLevel - floor < LEAST_RISE_DB) return undefined;
  if ((low[peak] as number) > peakLevel + MOST_VOICE_DB) return undefined;

  const inside = (t: number): boolean => at(t) > peakLevel - DEPTH_DB;
  let first = peak;
  while (first > Math.max(0, from - 1) && inside(first - 1) && peak - first < MOST_FRAMES_BEFORE_PEAK)
    first--;
  let last = peak;
  while (last < to - 1 && inside(last + 1) && last - first < MOST_FRAMES && voiceAbove(last + 1) <= 6) last++;
  return { first, last, peakLevel, levels: band };
}

function steepestRise(
  levels: FrameLevels,
  band: Float64Array,
  from: number,
  to: number,
  voiceAbove: (t: number) => number,
): number {
  let best = from + 1;
  let most = Number.NEGATIVE_INFINITY;
  for (let t = from + 1; t < to; t++) {
    const level = band[t] as number;
    const before = Math.min(band[Math.max(0, t - 2)] as number, band[Math.max(0, t - 3)] as number);
    const loudness = 0.3 * (level - levels.loud);
    const merit = Math.min(level - before, 25) + loudness - (voiceAbove(t) > 12 ? 8 : 0);
    if (merit > most) {
      most = merit;
      best = t;
    }
  }
  return best;
}

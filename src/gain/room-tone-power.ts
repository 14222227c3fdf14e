import type { Samples } from '../signal/samples.js';
import { heardPower } from './heard-power.js';

/** Long enough for a mean, short enough to fit between a breath and its phrase. */
const BLOCK_SECONDS = 0.03;
/** Share of the blocks that are the room: pauses are rarer than this in no take that has a breath. */
const QUIET_SHARE = 0.02;
const LEAST_BLOCKS = 3;
/** What lies so far under the loudest block is an edit or the converter's last bit and no room, in dB. */
const SILENT_BELOW_DB = 90;

/**
 * Power of a take's room tone, as heard (K-weighted mean square, averaged over channels): the mean of its quietest 2 %
 * of blocks of 30 ms, at least three. Digital silence is left out. 0 where nothing is left.
 */
export function roomTonePower(channels: readonly Samples[], sampleRateHz: number): number {
  const { powers } = heardPower(channels, sampleRateHz, BLOCK_SECONDS);
  let most = 0;
  for (const power of powers) most = Math.max(most, power);
  const least = most * 10 ** (-SILENT_BELOW_DB / 10);
  // The last block may hold a few samples, which say little; a block beside silence may be half silent.
  const sounds = (b: number): boolean => (powers[b] ?? Number.POSITIVE_INFINITY) > least;
  const heard = powers.slice(0, -1).filter((_, b) => sounds(b) && sounds(b - 1) && sounds(b + 1));
  heard.sort();
  const count = Math.min(heard.length, Math.max(LEAST_BLOCKS, Math.round(QUIET_SHARE * heard.length)));
  let sum = 0;
  for (let b = 0; b < count; b++) sum += heard[b] as number;
  return count === 0 ? 0 : sum / count;
}

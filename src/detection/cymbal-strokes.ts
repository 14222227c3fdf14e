import { decibelsFromPower } from '../signal/decibels.js';
import type { Doubles } from '../signal/samples.js';
import type { CymbalBands } from './cymbal-bands.js';

/** Blocks over which the sound after an onset is averaged, and the two stretches before it. */
const AFTER_BLOCKS = 6;
const BEFORE_NEAR = 6;
const BEFORE_FAR = 14;
/** More of a rise in one band says no more: a stroke out of silence. */
const MOST_RISE_DB = 30;
/** What lies this far under the loudest block of a band counts as silence. */
export const SILENCE = 1e-8;

/**
 * How much the sound rises at each block, in dB: the mean over the bands of power after over power before. After: the block
 * and the next five. Before: the 6 ms up to the block, or the 8 ms before those if they are louder, so that a beat of a ring
 * that swells again is no rise. What is 80 dB under the band's loudest block counts as silence.
 */
export function strokeRises({ bands, blockCount }: CymbalBands): Doubles {
  const rises = new Float64Array(blockCount);
  for (const powers of bands) {
    const sums = runningSums(powers);
    const mean = (from: number, to: number): number => {
      const a = Math.max(0, from);
      const b = Math.min(blockCount, to);
      return b > a ? ((sums[b] as number) - (sums[a] as number)) / (b - a) : 0;
    };
    let loudest = 0;
    for (const power of powers) if (power > loudest) loudest = power;
    if (loudest === 0) continue;
    const least = SILENCE * loudest;
    for (let b = 0; b < blockCount; b++) {
      const before = Math.max(mean(b - BEFORE_NEAR, b), mean(b - BEFORE_FAR, b - BEFORE_NEAR));
      const ratio = (mean(b, b + AFTER_BLOCKS) + least) / (before + least);
      const riseDb = Math.max(-MOST_RISE_DB, Math.min(MOST_RISE_DB, decibelsFromPower(ratio)));
      rises[b] = (rises[b] as number) + riseDb / bands.length;
    }
  }
  return rises;
}

/** Blocks on either side that tell an attack from a swell, and how far from the coarse place it may lie. */
const SHARP_BLOCKS = 3;
const SHARP_REACH = 8;

/**
 * How sharply the sound rises near a block, in dB: the greatest mean over the bands of power in 3 ms over power in the 3 ms
 * before the millisecond that precedes them. A stroke is as sharp as its rise is great; a ring that swells is not.
 */
export function strokeSharpness({ bands, blockCount }: CymbalBands, block: number): number {
  let sharpest = 0;
  const sum = (powers: Doubles, from: number): number => {
    let total = 0;
    for (let b = Math.max(0, from); b < Math.min(blockCount, from + SHARP_BLOCKS); b++)
      total += powers[b] as number;
    return total;
  };
  for (let b = block - SHARP_REACH; b <= block + SHARP_REACH; b++) {
    let riseDb = 0;
    for (const powers of bands) {
      const ratio = sum(powers, b) / Math.max(sum(powers, b - 1 - SHARP_BLOCKS), Number.MIN_VALUE);
      riseDb += Math.min(MOST_RISE_DB, 10 * Math.log10(Math.max(ratio, 1e-3))) / bands.length;
    }
    sharpest = Math.max(sharpest, riseDb);
  }
  return sharpest;
}

/** Blocks at which the rise is at least `leastRiseDb` and the greatest within `gapBlocks` on either side. */
export function pickStrokes(rises: Doubles, leastRiseDb: number, gapBlocks: number): readonly number[] {
  const picked: number[] = [];
  for (let b = 0; b < rises.length; b++) {
    const rise = rises[b] as number;
    if (rise < leastRiseDb) continue;
    let greatest = true;
    for (let d = -gapBlocks; d <= gapBlocks && greatest; d++) {
      const other = rises[b + d];
      // Of equal ones the first.
      if (other !== undefined && (other > rise || (other === rise && d < 0))) greatest = false;
    }
    if (greatest) picked.push(b);
  }
  return picked;
}

/** Sum of the first i values at i. */
export function runningSums(values: Doubles): Doubles {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = (sums[i] as number) + (values[i] as number);
  return sums;
}

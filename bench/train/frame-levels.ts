import {
  BAND_COUNT,
  FIRST_HIGH_BAND,
  LOW_BAND_COUNT,
  ROW_BANDS,
} from '../../src/detection/detection-scale.js';
import type { BandTable } from './band-table.js';

/** Levels per frame in dB, and where a clip is quiet and loud: what labels are compared with. */
export interface FrameLevels {
  /** Below 1 kHz: voicing. */
  readonly low: Float64Array;
  /** 300 Hz to 1.65 kHz: a vowel, and neither hum nor an s. */
  readonly vowel: Float64Array;
  /** 1.3 to 5.2 kHz: where p and k burst. */
  readonly middle: Float64Array;
  /** From 3 kHz on: where s and t are loud. */
  readonly high: Float64Array;
  readonly whole: Float64Array;
  /** Level that 5 % of all frames stay below: about the noise floor. */
  readonly quiet: number;
  /** Level that 95 % of all frames stay below. */
  readonly loud: number;
  /** Level below 1 kHz that 90 % of all frames stay below: a vowel. */
  readonly loudLow: number;
  /** Vowel level that 90 % of all frames stay below. */
  readonly loudVowel: number;
  /** Middle level that 4 % of all frames stay below. */
  readonly quietMiddle: number;
}

const MIDDLE_BANDS = [5, 13] as const;
const VOWEL_BANDS = [1, 6] as const;

/** Reads the levels of a clip. */
export function frameLevels(table: BandTable): FrameLevels {
  const low = bandLevels(table, 0, LOW_BAND_COUNT);
  const vowel = bandLevels(table, VOWEL_BANDS[0], VOWEL_BANDS[1]);
  const middle = bandLevels(table, MIDDLE_BANDS[0], MIDDLE_BANDS[1]);
  const high = bandLevels(table, FIRST_HIGH_BAND, BAND_COUNT);
  const whole = bandLevels(table, 0, BAND_COUNT);
  return {
    low,
    vowel,
    middle,
    high,
    whole,
    quiet: ranked(whole, 0.05),
    loud: ranked(whole, 0.95),
    loudLow: ranked(low, 0.9),
    loudVowel: ranked(vowel, 0.9),
    quietMiddle: ranked(middle, 0.04),
  };
}

/** Level of the sum of some bands per frame, in dB. */
export function bandLevels(table: BandTable, firstBand: number, endBand: number): Float64Array {
  const levels = new Float64Array(table.frameCount);
  for (let frame = 0; frame < levels.length; frame++) {
    let power = 0;
    for (let band = firstBand; band < endBand; band++)
      power += table.powers[frame * ROW_BANDS + band] as number;
    levels[frame] = 10 * Math.log10(power + 1e-20);
  }
  return levels;
}

function ranked(levels: Float64Array, share: number): number {
  return Float64Array.from(levels).sort()[Math.floor(levels.length * share)] ?? Number.NEGATIVE_INFINITY;
}

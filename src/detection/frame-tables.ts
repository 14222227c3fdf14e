import type { Doubles } from '../signal/samples.js';
import { ROW_BANDS } from './detection-scale.js';

/** A stretch of the frame tables: row t of each describes frame t of the stretch. */
export interface FrameTables {
  readonly rowCount: number;
  /** Band powers, ROW_BANDS a row. */
  readonly bands: Doubles;
  /** Classifier inputs, INPUT_COUNT a row. */
  readonly inputs: Doubles;
  /** Class probabilities, one per class a row. */
  readonly track: Doubles;
}

/** Power below which everything is silence, so that a logarithm exists: −200 dB. */
export const LEAST_POWER = 1e-20;

/** 10·log₁₀ x = this · ln x: engines take the natural logarithm faster. */
export const DB_PER_NEPER: number = 10 / Math.LN10;

/** Power of a frame in the bands from `from` up to `to` together, and LEAST_POWER. */
export function bandPower(
  { bands }: Pick<FrameTables, 'bands'>,
  frame: number,
  from: number,
  to: number,
): number {
  let power = LEAST_POWER;
  for (let i = frame * ROW_BANDS + from; i < frame * ROW_BANDS + to; i++) power += bands[i] as number;
  return power;
}

/** The same of all frames from `start` up to `end` together. */
export function spanPower(
  { bands }: Pick<FrameTables, 'bands'>,
  { start, end }: { readonly start: number; readonly end: number },
  from: number,
  to: number,
): number {
  let power = (end - start) * LEAST_POWER;
  for (let row = start * ROW_BANDS; row < end * ROW_BANDS; row += ROW_BANDS)
    for (let i = row + from; i < row + to; i++) power += bands[i] as number;
  return power;
}

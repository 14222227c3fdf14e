import type { Doubles } from '../signal/samples.js';
import { BAND_COUNT } from './detection-scale.js';

/** A stretch of the frame tables: row t of each describes frame t of the stretch. */
export interface FrameTables {
  readonly rowCount: number;
  /** Band powers, BAND_COUNT a row. */
  readonly bands: Doubles;
  /** Classifier inputs, INPUT_COUNT a row. */
  readonly inputs: Doubles;
  /** Class probabilities, one per class a row. */
  readonly track: Doubles;
}

const LEAST_POWER = 1e-20;

/** Level in dB per frame of the bands from `from` up to `to` together. */
export function bandLevels(tables: FrameTables, from: number, to: number): Doubles {
  const levels = new Float64Array(tables.rowCount);
  for (let t = 0; t < tables.rowCount; t++) {
    let power = LEAST_POWER;
    for (let band = from; band < to; band++) power += tables.bands[t * BAND_COUNT + band] as number;
    levels[t] = 10 * Math.log10(power);
  }
  return levels;
}

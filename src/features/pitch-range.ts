import { checkNumber, typeError } from '../signal/check.js';

/** The pitches whose periods are looked for. */
export interface PitchRange {
  /** Lowest pitch in Hz, above 0. */
  readonly lowestHz: number;
  /** Highest pitch in Hz, above `lowestHz`. */
  readonly highestHz: number;
}

/** 70 to 1000 Hz: from a low male voice to the high notes of a soprano (common practice, no source). */
export const DEFAULT_PITCH_RANGE: PitchRange = Object.freeze({ lowestHz: 70, highestHz: 1000 });

/** Throws unless `range` is a {@link PitchRange}. */
export function checkPitchRange(functionName: string, parameter: string, range: PitchRange): void {
  if (typeof range !== 'object' || range === null)
    throw typeError(functionName, parameter, 'must be { lowestHz, highestHz }', range);
  checkNumber(functionName, `${parameter}.lowestHz`, range.lowestHz, Number.MIN_VALUE);
  checkNumber(functionName, `${parameter}.highestHz`, range.highestHz, range.lowestHz);
}

import { checkNumber, rangeError, typeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';

/** A range of frequencies. A bin belongs to it when its centre f satisfies lowHz ≤ f < highHz. */
export interface FrequencyBand {
  /** Lower edge in Hz, 0 or more; a bin on it is inside. */
  readonly lowHz: number;
  /** Upper edge in Hz, above `lowHz`; a bin on it is outside. Infinity takes everything up to half the rate. */
  readonly highHz: number;
}

/** Every bin, DC and half the sample rate included. */
export const WHOLE_SPECTRUM: FrequencyBand = Object.freeze({ lowHz: 0, highHz: Number.POSITIVE_INFINITY });

/** Throws unless `band` is a {@link FrequencyBand}. */
export function checkBand(functionName: string, parameter: string, band: FrequencyBand): void {
  if (typeof band !== 'object' || band === null)
    throw typeError(functionName, parameter, 'must be { lowHz, highHz }', band);
  checkNumber(functionName, `${parameter}.lowHz`, band.lowHz, 0);
  if (typeof band.highHz !== 'number')
    throw typeError(functionName, `${parameter}.highHz`, 'must be a number', band.highHz);
  if (!(band.highHz > band.lowHz))
    throw rangeError(functionName, `${parameter}.highHz`, `must be above lowHz (${band.lowHz})`, band.highHz);
}

/**
 * Throws unless `power` is a power spectrum: a Float64Array of at least one bin, each finite and 0 or more,
 * and `binHz` a distance of bins above 0 and at most 96,000 Hz.
 */
export function checkPower(functionName: string, power: Doubles, binHz: number): void {
  if (!(power instanceof Float64Array))
    throw typeError(functionName, 'power', 'must be a Float64Array of bins 0 to N/2', power);
  if (power.length === 0) throw rangeError(functionName, 'power.length', 'must be at least 1', 0);
  for (let k = 0; k < power.length; k++) {
    const p = power[k] as number;
    if (!(p >= 0 && p < Number.POSITIVE_INFINITY))
      throw rangeError(functionName, `power[${k}]`, 'must be finite and 0 or more', p);
  }
  // A spectrum of two bins at the greatest rate.
  checkNumber(functionName, 'binHz', binHz, Number.MIN_VALUE, 96000);
}

/** The first bin k with k·binHz ≥ edgeHz, at most `binCount`: where a band starts, or ends when given its upper edge. */
export function binFromEdge(edgeHz: number, binHz: number, binCount: number): number {
  if (!(edgeHz / binHz < binCount)) return binCount;
  let bin = Math.ceil(edgeHz / binHz);
  // The division may round to the wrong side of a bin that stands exactly on the edge.
  if (bin > 0 && (bin - 1) * binHz >= edgeHz) bin--;
  if (bin * binHz < edgeHz) bin++;
  return Math.min(bin, binCount);
}

/** Sum of the powers of bins first to end − 1. */
export function sumOfBins(power: Doubles, first: number, end: number): number {
  let sum = 0;
  for (let k = first; k < end; k++) sum += power[k] as number;
  return sum;
}

import type { Doubles } from '../signal/samples.js';

/**
 * Numbers as text: whole multiples of `step`, offset by 2^11, two base-64 digits each. The upper digits of all come before the lower
 * ones, so that each kind packs by its own statistics: a tenth less, once compressed, than digits in pairs.
 */
export interface PackedWeights {
  readonly step: number;
  readonly digits: string;
}

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const HALF_RANGE = 2 ** 11;

/** Reads packed numbers. */
export function unpackWeights(packed: PackedWeights): Doubles {
  const { step, digits } = packed;
  const values = new Uint8Array(128);
  for (let value = 0; value < DIGITS.length; value++) values[DIGITS.charCodeAt(value)] = value;
  const valueAt = (place: number): number => values[digits.charCodeAt(place)] as number;
  const out = new Float64Array(digits.length / 2);
  for (let i = 0; i < out.length; i++)
    out[i] = (64 * valueAt(i) + valueAt(out.length + i) - HALF_RANGE) * step;
  return out;
}

/**
 * Packs numbers; each is rounded to the nearest of 2^bits equal steps between the greatest magnitudes. The text is as
 * long for fewer bits, at most 12, but takes less room where it is compressed.
 */
export function packWeights(values: Doubles, bits = 12): PackedWeights {
  let most = 0;
  for (const value of values) most = Math.max(most, Math.abs(value));
  const step = Number((Math.max(most, 1e-9) / (2 ** (bits - 1) - 1)).toPrecision(6));
  let upper = '';
  let lower = '';
  for (const value of values) {
    const code = Math.max(0, Math.min(2 * HALF_RANGE - 1, Math.round(value / step) + HALF_RANGE));
    upper += DIGITS[code >> 6];
    lower += DIGITS[code & 63];
  }
  return { step, digits: upper + lower };
}

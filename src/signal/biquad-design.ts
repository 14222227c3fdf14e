import { checkNumber, checkObject, checkSampleRate, rangeError } from './check.js';

/**
 * A second-order section, scaled so that a0 = 1:
 * y[n] = b0·x[n] + b1·x[n−1] + b2·x[n−2] − a1·y[n−1] − a2·y[n−2].
 */
export interface BiquadCoefficients {
  /** Weight of x[n]. */
  readonly b0: number;
  /** Weight of x[n−1]. */
  readonly b1: number;
  /** Weight of x[n−2]. */
  readonly b2: number;
  /** Weight of y[n−1], subtracted. */
  readonly a1: number;
  /** Weight of y[n−2], subtracted. */
  readonly a2: number;
}

/** Where a filter without gain works. */
export interface PassFilterOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Corner or centre in Hz, above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Quality factor, 0.01 to 1000. For low- and high-pass √½ (Butterworth, −3.01 dB at the corner) where left out. */
  readonly q?: number;
}

/** Where a band-pass works: its quality factor must be chosen. */
export interface BandPassOptions extends PassFilterOptions {
  /** Quality factor, 0.01 to 1000. */
  readonly q: number;
}

/** Where a peaking equaliser works and by how much. */
export interface PeakingOptions extends BandPassOptions {
  /** Gain at the centre in dB, −120 to 120. */
  readonly gainDb: number;
}

/** Where a shelf works and by how much. */
export interface ShelfOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Midpoint of the slope in Hz (half the gain in dB is reached there), above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Gain of the shelf in dB, −120 to 120. */
  readonly gainDb: number;
  /** Shelf slope S, above 0 to 1. 1 where left out: as steep as it can be without a bump. */
  readonly slope?: number;
}

/**
 * Low-pass section.
 *
 * @param options Sample rate, corner and quality factor.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { lowPass } from 'lenition/signal';
 * const { b0, b1, b2 } = lowPass({ sampleRateHz: 48000, frequencyHz: 12000 });
 * b1 / b0; // => 2
 * b2 === b0; // => true
 */
export function lowPass(options: PassFilterOptions): BiquadCoefficients {
  const { cosine, alpha } = passAngles('lowPass', options, Math.SQRT1_2);
  const b = (1 - cosine) / 2;
  return normalised(b, 2 * b, b, 1 + alpha, -2 * cosine, 1 - alpha);
}

/**
 * High-pass section.
 *
 * @param options Sample rate, corner and quality factor.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { highPass } from 'lenition/signal';
 * const { b0, b1, b2 } = highPass({ sampleRateHz: 48000, frequencyHz: 5000 });
 * b1 / b0; // => -2
 * b2 === b0; // => true
 */
export function highPass(options: PassFilterOptions): BiquadCoefficients {
  const { cosine, alpha } = passAngles('highPass', options, Math.SQRT1_2);
  const b = (1 + cosine) / 2;
  return normalised(b, -2 * b, b, 1 + alpha, -2 * cosine, 1 - alpha);
}

/**
 * Band-pass section with 0 dB at its centre. Its −3 dB points are a factor apart that q sets: bandwidth ≈ centre / q.
 *
 * @param options Sample rate, centre and quality factor.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note), band-pass of constant 0 dB peak gain.
 * @example
 * import { bandPass } from 'lenition/signal';
 * bandPass({ sampleRateHz: 48000, frequencyHz: 6000, q: 2 }).b1; // => 0
 */
export function bandPass(options: BandPassOptions): BiquadCoefficients {
  const { cosine, alpha } = passAngles('bandPass', options);
  return normalised(alpha, 0, -alpha, 1 + alpha, -2 * cosine, 1 - alpha);
}

/**
 * Peaking equaliser section: the gain at its centre, 0 dB far from it.
 *
 * @param options Sample rate, centre, quality factor and gain; gain 0 passes everything unchanged.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { peaking } from 'lenition/signal';
 * peaking({ sampleRateHz: 48000, frequencyHz: 6000, q: 1, gainDb: 0 }).b0; // => 1
 */
export function peaking(options: PeakingOptions): BiquadCoefficients {
  const { cosine, alpha } = passAngles('peaking', options);
  const a = rootGain('peaking', options.gainDb);
  return normalised(1 + alpha * a, -2 * cosine, 1 - alpha * a, 1 + alpha / a, -2 * cosine, 1 - alpha / a);
}

/**
 * Low shelf section: the gain below the midpoint, 0 dB above.
 *
 * @param options Sample rate, midpoint, gain and slope; gain 0 passes everything unchanged.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { lowShelf } from 'lenition/signal';
 * lowShelf({ sampleRateHz: 48000, frequencyHz: 200, gainDb: 0 }).b0; // => 1
 */
export function lowShelf(options: ShelfOptions): BiquadCoefficients {
  const { a, cosine, ramp } = shelfTerms('lowShelf', options);
  return normalised(
    a * (a + 1 - (a - 1) * cosine + ramp),
    2 * a * (a - 1 - (a + 1) * cosine),
    a * (a + 1 - (a - 1) * cosine - ramp),
    a + 1 + (a - 1) * cosine + ramp,
    -2 * (a - 1 + (a + 1) * cosine),
    a + 1 + (a - 1) * cosine - ramp,
  );
}

/**
 * High shelf section: the gain above the midpoint, 0 dB below.
 *
 * @param options Sample rate, midpoint, gain and slope; gain 0 passes everything unchanged.
 * @throws TypeError or RangeError for values outside the stated ranges.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { highShelf } from 'lenition/signal';
 * highShelf({ sampleRateHz: 48000, frequencyHz: 6000, gainDb: 0 }).b0; // => 1
 */
export function highShelf(options: ShelfOptions): BiquadCoefficients {
  const { a, cosine, ramp } = shelfTerms('highShelf', options);
  return normalised(
    a * (a + 1 + (a - 1) * cosine + ramp),
    -2 * a * (a - 1 + (a + 1) * cosine),
    a * (a + 1 + (a - 1) * cosine - ramp),
    a + 1 - (a - 1) * cosine + ramp,
    2 * (a - 1 - (a + 1) * cosine),
    a + 1 - (a - 1) * cosine - ramp,
  );
}

/** cos ω0 and α = sin ω0 / (2Q), with a Q for where none is given, if there is one. */
function passAngles(
  functionName: string,
  options: PassFilterOptions,
  otherwise?: number,
): { cosine: number; alpha: number } {
  checkObject(functionName, 'options', options);
  const { sampleRateHz, frequencyHz, q = otherwise } = options;
  const angle = checkedAngle(functionName, sampleRateHz, frequencyHz);
  checkNumber(functionName, 'q', q, 0.01, 1000);
  return { cosine: Math.cos(angle), alpha: Math.sin(angle) / (2 * q) };
}

/** A, cos ω0 and 2·√A·α with α of the shelf slope S. */
function shelfTerms(
  functionName: string,
  options: ShelfOptions,
): { a: number; cosine: number; ramp: number } {
  checkObject(functionName, 'options', options);
  const { sampleRateHz, frequencyHz, gainDb, slope = 1 } = options;
  const angle = checkedAngle(functionName, sampleRateHz, frequencyHz);
  const a = rootGain(functionName, gainDb);
  checkNumber(functionName, 'slope', slope, Number.MIN_VALUE, 1);
  const alpha = (Math.sin(angle) / 2) * Math.sqrt((a + 1 / a) * (1 / slope - 1) + 2);
  return { a, cosine: Math.cos(angle), ramp: 2 * Math.sqrt(a) * alpha };
}

/** ω0 in radians per sample. */
function checkedAngle(functionName: string, sampleRateHz: number, frequencyHz: number): number {
  checkSampleRate(functionName, sampleRateHz);
  checkNumber(functionName, 'frequencyHz', frequencyHz);
  if (frequencyHz <= 0 || frequencyHz >= sampleRateHz / 2)
    throw rangeError(
      functionName,
      'frequencyHz',
      `must lie above 0 and under half the sample rate (${sampleRateHz / 2})`,
      frequencyHz,
    );
  return (2 * Math.PI * frequencyHz) / sampleRateHz;
}

/** A = 10^(dB/40), the square root of the gain. */
function rootGain(functionName: string, gainDb: number): number {
  checkNumber(functionName, 'gainDb', gainDb, -120, 120);
  return 10 ** (gainDb / 40);
}

function normalised(
  b0: number,
  b1: number,
  b2: number,
  a0: number,
  a1: number,
  a2: number,
): BiquadCoefficients {
  return Object.freeze({ b0: b0 / a0, b1: b1 / a0, b2: b2 / a0, a1: a1 / a0, a2: a2 / a0 });
}

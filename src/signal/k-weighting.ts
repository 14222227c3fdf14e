import type { BiquadCoefficients } from './biquad-design.js';
import { checkObject, checkSampleRate } from './check.js';

/** Which rate a weighting filter is made for. */
export interface WeightingOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

/**
 * The analogue filters behind the 48 kHz coefficients that the standard prints (found by undoing the bilinear
 * transform; the numbers are in wide public use). `bandExponent` shapes the middle term of the shelf.
 */
const SHELF = Object.freeze({
  frequencyHz: 1681.974450955533,
  gainDb: 3.999843853973347,
  q: 0.7071752369554196,
  bandExponent: 0.4996667741545416,
});
const HIGH_PASS = Object.freeze({ frequencyHz: 38.13547087602444, q: 0.5003270373238773 });

/**
 * The two sections of K-weighting for any sample rate: a shelf of +4 dB above about 1.7 kHz (the head), then a
 * high-pass at 38 Hz. At 48 kHz they equal the printed coefficients to 1e-10.
 *
 * @param options Sample rate.
 * @returns Shelf and high-pass, for `filterSamples`. At 48 kHz the standard leaves the high-pass unscaled, which lifts
 * everything by 0.043 dB; other rates are scaled to that same gain, so that a recording reads alike at every rate
 * (below 22 kHz the bilinear transform bends the shelf: 1 kHz reads up to 0.05 dB off at 16 kHz, 0.2 dB at 8 kHz).
 * @throws TypeError or RangeError for a sample rate outside its range.
 * @see ITU-R BS.1770, "Algorithms to measure audio programme loudness and true-peak audio level".
 * @example
 * import { kWeighting } from 'lenition/signal';
 * const [shelf, highPass] = kWeighting({ sampleRateHz: 48000 });
 * shelf.b0.toFixed(6); // => "1.535125"
 * highPass.b1; // => -2
 */
export function kWeighting(options: WeightingOptions): readonly [BiquadCoefficients, BiquadCoefficients] {
  checkObject('kWeighting', 'options', options);
  const { sampleRateHz } = options;
  checkSampleRate('kWeighting', sampleRateHz);
  return Object.freeze([shelf(sampleRateHz), highPass(sampleRateHz)] as const);
}

/** Bilinear transform of (Vh·s² + Vb·s/Q + 1) / (s² + s/Q + 1), where Vh is the shelf's gain. */
function shelf(sampleRateHz: number): BiquadCoefficients {
  const k = Math.tan((Math.PI * SHELF.frequencyHz) / sampleRateHz);
  const damping = k / SHELF.q;
  const high = 10 ** (SHELF.gainDb / 20);
  const band = high ** SHELF.bandExponent;
  const a0 = 1 + damping + k * k;
  return Object.freeze({
    b0: (high + band * damping + k * k) / a0,
    b1: (2 * (k * k - high)) / a0,
    b2: (high - band * damping + k * k) / a0,
    a1: (2 * (k * k - 1)) / a0,
    a2: (1 - damping + k * k) / a0,
  });
}

/** Bilinear transform of g·s² / (s² + s/Q + 1), where g makes the numerator 1, −2, 1 at 48 kHz as the standard has it. */
function highPass(sampleRateHz: number): BiquadCoefficients {
  const { k, damping, a0 } = highPassTerms(sampleRateHz);
  const scale = highPassTerms(48000).a0 / a0;
  return Object.freeze({
    b0: scale,
    b1: -2 * scale,
    b2: scale,
    a1: (2 * (k * k - 1)) / a0,
    a2: (1 - damping + k * k) / a0,
  });
}

function highPassTerms(sampleRateHz: number): { k: number; damping: number; a0: number } {
  const k = Math.tan((Math.PI * HIGH_PASS.frequencyHz) / sampleRateHz);
  const damping = k / HIGH_PASS.q;
  return { k, damping, a0: 1 + damping + k * k };
}

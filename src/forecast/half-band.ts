import type { Doubles } from '../signal/samples.js';

/**
 * How far down a half-band filter holds what must not come through: the images of doubling the rate, and what would
 * fold below the pass edge when it is halved.
 */
export const HALF_BAND_REJECTION_DB = 100;
/** What the window is designed for: Kaiser's fitted formulas can miss by most of a decibel. */
const DESIGN_DB: number = HALF_BAND_REJECTION_DB + 1;

/** Highest frequency that oversampling passes at a sample rate, as a share of that rate: 20 kHz where it can. */
export function passEdge(sampleRateHz: number): number {
  // At 44.1 kHz 20 kHz is 0.4535 of the rate: nearer to one half the filter would grow without end.
  return Math.min(20_000 / 44_100, Math.max(0.4, 20_000 / sampleRateHz));
}

/**
 * One side of a half-band filter of linear phase: g[i] = 2·h[±(2i + 1)], so that the odd samples between two known
 * ones are Σ g[i]·(x[−i] + x[1 + i]). All other taps of a half-band filter are 0, the middle one ½. Kaiser window.
 *
 * @param transition width of the transition as a share of the higher rate
 * Source: Kaiser, "Nonrecursive digital filter design using the I0-sinh window function", 1974 (length and β from memory).
 */
export function halfBandTaps(transition: number): Doubles {
  const order = (DESIGN_DB - 7.95) / (2.285 * 2 * Math.PI * transition);
  // One more than that, and eight at least: the formula gives too few for short filters. From the third doubling on
  // it is always eight, so that the delay is whole samples at the lowest rate.
  const count = Math.max(8, Math.ceil((order + 2) / 4) + 1);
  const beta = 0.1102 * (DESIGN_DB - 8.7);
  const taps = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const k = 2 * i + 1;
    const window = besselI0(beta * Math.sqrt(1 - (k / (2 * count - 1)) ** 2)) / besselI0(beta);
    const ideal = Math.sin((Math.PI * k) / 2) / ((Math.PI * k) / 2);
    taps[i] = ideal * window;
    sum += 2 * (taps[i] as number);
  }
  // A steady value must pass exactly.
  for (let i = 0; i < count; i++) taps[i] = (taps[i] as number) / sum;
  return taps;
}

/** Modified Bessel function of the first kind and order 0, by its series. */
function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

/** Doubles or halves the rate of a stream of chunks; late by as many samples of the lower rate as there are taps. */
export type RateStep = (out: Doubles, input: Doubles, lowCount: number) => void;

/** Doubling: `lowCount` samples in, twice as many out. */
export function createDoubler(taps: Doubles, mostLowCount: number): RateStep {
  const m = taps.length;
  const line = new Float64Array(2 * m - 1 + mostLowCount);
  return (out, input, lowCount) => {
    for (let j = 0; j < lowCount; j++) line[2 * m - 1 + j] = input[j] as number;
    for (let j = 0; j < lowCount; j++) {
      const at = j + m - 1;
      out[2 * j] = line[at] as number;
      out[2 * j + 1] = between(line, at, taps);
    }
    line.copyWithin(0, lowCount, lowCount + 2 * m - 1);
  };
}

/** Halving: twice `lowCount` samples in, `lowCount` out. */
export function createHalver(taps: Doubles, mostLowCount: number): RateStep {
  const m = taps.length;
  const even = new Float64Array(m + mostLowCount);
  const odd = new Float64Array(2 * m + mostLowCount);
  return (out, input, lowCount) => {
    for (let j = 0; j < lowCount; j++) {
      even[m + j] = input[2 * j] as number;
      odd[2 * m + j] = input[2 * j + 1] as number;
    }
    for (let j = 0; j < lowCount; j++) out[j] = 0.5 * ((even[j] as number) + between(odd, j + m - 1, taps));
    even.copyWithin(0, lowCount, lowCount + m);
    odd.copyWithin(0, lowCount, lowCount + 2 * m);
  };
}

/** The sample halfway between `line[at]` and `line[at + 1]`. */
function between(line: Doubles, at: number, taps: Doubles): number {
  let sum = 0;
  for (let i = 0; i < taps.length; i++)
    sum += (taps[i] as number) * ((line[at - i] as number) + (line[at + 1 + i] as number));
  return sum;
}

import { LEAST_BAND_WIDTH_HZ, type RegionBand } from '../regions/region.js';
import { checkNumber, checkSampleRate, typeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';

/** Designed depth of each stopband, in dB: 1e-5 of the amplitude; the two edges of a band together leave up to 2e-5. */
const DEPTH_DB = 100;
/** Kaiser's β for that depth. */
const BETA: number = 0.1102 * (DEPTH_DB - 8.7);
/** Kernel length less 1, times transition over sample rate, for that depth: (A − 7.95) / (2.285·2π). */
const LENGTH_FACTOR: number = (DEPTH_DB - 7.95) / (2.285 * 2 * Math.PI);

/** Narrowest and widest transition, in Hz. */
const LEAST_TRANSITION_HZ = 10;
const MOST_TRANSITION_HZ = 1000;

/** A band as the filter takes it. */
export interface BandShape {
  /** Lower edge in Hz, 0 where the band is open downwards. */
  readonly lowHz: number;
  /** Upper edge in Hz, half the rate where the band is open upwards. */
  readonly highHz: number;
  /** Width of the transition that each edge is the middle of, in Hz; 0 where the band is the whole spectrum. */
  readonly transitionHz: number;
  /** The kernel reaches so many samples to either side. */
  readonly reachSamples: number;
}

/** Edges, transition and reach of the filter for a band; see bandTransitionHz. */
export function bandShape(band: RegionBand, sampleRateHz: number): BandShape {
  const half = sampleRateHz / 2;
  const lowHz = band.lowHz < LEAST_TRANSITION_HZ / 2 ? 0 : band.lowHz;
  const lowestEdge = lowHz > 0 ? lowHz : band.highHz;
  const widest = Math.min(lowestEdge / 3, (band.highHz - band.lowHz) / 2, MOST_TRANSITION_HZ);
  const transition = Math.max(widest, LEAST_TRANSITION_HZ);
  const highHz = half - band.highHz < transition / 2 ? half : band.highHz;
  if (lowHz === 0 && highHz === half) return { lowHz, highHz, transitionHz: 0, reachSamples: 0 };
  const reachSamples = Math.ceil((LENGTH_FACTOR * sampleRateHz) / transition / 2);
  return { lowHz, highHz, transitionHz: transition, reachSamples };
}

/**
 * The band filter's impulse response h[0] to h[reach]; h[−n] = h[n], so it has no delay and its phase is zero.
 *
 * Ideal band-pass under a Kaiser window: h[n] = w(n)·(sin 2π·high·n/fs − sin 2π·low·n/fs)/(πn),
 * w(n) = I0(β√(1 − (n/reach)²))/I0(β).
 *
 * Source of the window, β and the length: J. F. Kaiser, "Nonrecursive digital filter design using the I0-sinh window
 * function", 1974, as in Oppenheim and Schafer, "Discrete-Time Signal Processing" (from memory).
 */
export function bandKernel(shape: BandShape, sampleRateHz: number): Doubles {
  const { lowHz, highHz, reachSamples } = shape;
  const openAbove = highHz === sampleRateHz / 2;
  const kernel = new Float64Array(reachSamples + 1);
  kernel[0] = (2 * (highHz - lowHz)) / sampleRateHz;
  const atCentre = besselI0(BETA);
  for (let n = 1; n <= reachSamples; n++) {
    // sin πn is 0, but not as a double.
    const high = openAbove ? 0 : Math.sin((2 * Math.PI * highHz * n) / sampleRateHz);
    const low = Math.sin((2 * Math.PI * lowHz * n) / sampleRateHz);
    const window = besselI0(BETA * Math.sqrt(1 - (n / reachSamples) ** 2)) / atCentre;
    kernel[n] = (window * (high - low)) / (Math.PI * n);
  }
  return kernel;
}

/**
 * How wide the transition at each edge of a region's band is: the edge lies in its middle (−6 dB of the band signal);
 * outside of the transitions the band's gain, or no gain, holds within 0.1 dB.
 *
 * A third of the lowest edge, at most half the band and at most 1,000 Hz, and never under 10 Hz. Only edges inside the
 * spectrum count: one under 5 Hz counts as 0 and one nearer than half a transition to half the rate as half the rate.
 *
 * @param band - A band that is sound for the rate (see setBand).
 * @param sampleRateHz - Samples a second.
 * @returns The width in Hz; 0 for a band that is the whole spectrum.
 * @throws RangeError or TypeError for a rate out of range or a band that is not sound for it.
 *
 * Source: common practice (a cut at a low edge needs a long filter, and a long filter smears a short sound).
 *
 * @example
 * import { bandTransitionHz } from 'lenition/gain';
 * bandTransitionHz({ lowHz: 4000, highHz: 11000 }, 48000); // => 1000
 * bandTransitionHz({ lowHz: 0, highHz: 150 }, 48000); // => 50
 * bandTransitionHz({ lowHz: 0, highHz: 24000 }, 48000); // => 0
 */
export function bandTransitionHz(band: RegionBand, sampleRateHz: number): number {
  const name = 'bandTransitionHz';
  checkSampleRate(name, sampleRateHz);
  if (typeof band !== 'object' || band === null)
    throw typeError(name, 'band', 'must be { lowHz, highHz }', band);
  const half = sampleRateHz / 2;
  checkNumber(name, 'band.lowHz', band.lowHz, 0, half - LEAST_BAND_WIDTH_HZ);
  checkNumber(name, 'band.highHz', band.highHz, band.lowHz + LEAST_BAND_WIDTH_HZ, half);
  return bandShape(band, sampleRateHz).transitionHz;
}

/** Modified Bessel function of the first kind and order 0, by its power series Σ ((x/2)^k / k!)². */
function besselI0(x: number): number {
  const quarter = (x * x) / 4;
  let term = 1;
  let sum = 1;
  for (let k = 1; term > sum * 1e-17; k++) {
    term *= quarter / (k * k);
    sum += term;
  }
  return sum;
}

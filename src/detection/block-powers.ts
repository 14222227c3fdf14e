import type { BiquadCoefficients } from '../signal/biquad-design.js';
import type { BlockPowers } from '../signal/engine.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Below this, what a filter remembers of a sound long past is taken for 0: subnormal doubles are many times slower. */
export const LEAST_STATE = 1e-300;

/** Numbers that are remembered of a channel: its last two samples and the last two results, newest first. */
export const STATE_COUNT = 4;

/** Sums of squares of each channel through a second-order section, from rest. */
export function createBlockPowers(coefficients: BiquadCoefficients, channelCount: number): BlockPowers {
  const states = new Float64Array(STATE_COUNT * channelCount);
  return {
    add(out, at, samples, from, blockSamples, blockCount, channel) {
      for (let block = 0; block < blockCount; block++) {
        const start = from + block * blockSamples;
        const sum = powerOf(
          samples,
          start,
          start + blockSamples,
          coefficients,
          states,
          channel * STATE_COUNT,
        );
        out[at + block] = (out[at + block] as number) + sum;
      }
    },
  };
}

/**
 * Sum of squares of one stretch through the filter. Two samples at a time: y[n] = v[n] − a₁y[n−1] − a₂y[n−2], with v what the zeros
 * make of the input, put into y[n+1] = v[n+1] − a₁y[n] − a₂y[n−1] gives both from the same two, so that half as many steps wait for
 * one another.
 */
function powerOf(
  samples: Samples,
  from: number,
  to: number,
  { b0, b1, b2, a1, a2 }: BiquadCoefficients,
  states: Doubles,
  state: number,
): number {
  const a11 = a1 * a1 - a2;
  const a12 = a1 * a2;
  let x1 = states[state] as number;
  let x2 = states[state + 1] as number;
  let y1 = states[state + 2] as number;
  let y2 = states[state + 3] as number;
  let even = 0;
  let odd = 0;
  let i = from;
  for (; i + 2 <= to; i += 2) {
    const x = samples[i] as number;
    const next = samples[i + 1] as number;
    const v = b0 * x + b1 * x1 + b2 * x2;
    const w = b0 * next + b1 * x + b2 * x1 - a1 * v;
    const y = v - a2 * y2 - a1 * y1;
    y1 = w + a12 * y2 + a11 * y1;
    y2 = y;
    x1 = next;
    x2 = x;
    even += y2 * y2;
    odd += y1 * y1;
  }
  if (i < to) {
    const x = samples[i] as number;
    const y = b0 * x + b1 * x1 + b2 * x2 - a2 * y2 - a1 * y1;
    y2 = y1;
    y1 = y;
    x2 = x1;
    x1 = x;
    even += y * y;
  }
  states[state] = x1;
  states[state + 1] = x2;
  states[state + 2] = Math.abs(y1) < LEAST_STATE ? 0 : y1;
  states[state + 3] = Math.abs(y2) < LEAST_STATE ? 0 : y2;
  return even + odd;
}

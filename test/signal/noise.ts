import type { Doubles, Samples } from '../../src/signal/samples.js';
/** Seeded uniform noise in [−1, 1): a 32-bit linear congruential generator (Numerical Recipes constants, from memory). */
export function uniformNoise(length: number, seed = 1): Doubles {
  let state = seed >>> 0;
  return Float64Array.from({ length }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  });
}

/** The same as 32-bit samples. */
export function noiseSamples(length: number, seed = 1): Samples {
  return Float32Array.from(uniformNoise(length, seed));
}

import type { Region, RegionList } from '../../src/regions/region.js';

export { region } from '../lib/region.js';

/** A list of regions, numbered in order. */
export function list(lengthSamples: number, regions: readonly Region[], sampleRateHz = 48_000): RegionList {
  return {
    sampleRateHz,
    lengthSamples,
    nextId: regions.length + 1,
    regions: regions.map((r, i) => ({ ...r, id: i + 1 })),
  };
}

/** Numbers within [0, 1) from a seed: the 32-bit generator of Numerical Recipes (constants from memory). */
export function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** White noise within ±0.5. */
export function noise(length: number, seed: number): Float32Array<ArrayBuffer> {
  const next = random(seed);
  return Float32Array.from({ length }, () => next() - 0.5);
}

import { mulberry32 } from '../../lib/random.js';

/** Draws for hostile data: millions of cases, so without the machinery of fast-check. */
export interface Random {
  /** A whole number from 0 to below `limit`. */
  below(limit: number): number;
  /** True once in `n`. */
  oneIn(n: number): boolean;
  pick<T>(choices: readonly T[]): T;
}

/** The same seed gives the same draws. */
export function randomFrom(seed: number): Random {
  const uniform = mulberry32(seed);
  const below = (limit: number): number => Math.floor(uniform() * limit);
  return { below, oneIn: (n) => below(n) === 0, pick: (choices) => choices[below(choices.length)]! };
}

/** The seed of one case: a hash of the run's seed, the name and the number of the case (FNV-1a, from memory). */
export function caseSeed(seed: number, name: string, index: number): number {
  let hash = 0x811c9dc5;
  for (const unit of `${seed}/${name}/${index}`) hash = Math.imul(hash ^ unit.charCodeAt(0), 16777619);
  // Neighbouring numbers end up far apart (a finaliser of MurmurHash 3, from memory).
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}

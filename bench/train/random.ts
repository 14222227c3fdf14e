/** A stream of random numbers that a seed settles: the same seed gives the same model. */
export interface Random {
  /** Evenly spread in [0, 1). */
  uniform(): number;
  /** Normal, mean 0, variance 1. */
  normal(): number;
}

/** Mulberry32, a public-domain generator by Tommy Ettinger (from memory); normal deviates after Box and Muller 1958. */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  // 1 − u lies in (0, 1], so the logarithm is finite.
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}

/** Evenly spread from `least` to `most`. */
export function between(least: number, most: number, random: Random): number {
  return least + (most - least) * random.uniform();
}

/** Puts a list into random order, in place (Fisher and Yates). */
export function shuffle(list: { length: number; [index: number]: number }, random: Random): void {
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(random.uniform() * (i + 1));
    const kept = list[i] as number;
    list[i] = list[j] as number;
    list[j] = kept;
  }
}

/** Seeded random numbers: the same seed gives the same numbers on every machine. */
export interface Random {
  /** Evenly spread over [least, most). */
  uniform(least: number, most: number): number;
  /** Normal, mean 0, variance 1. */
  normal(): number;
}

/**
 * A small 32-bit generator (the one known as mulberry32, by T. Ettinger; constants from memory) and, for normal
 * numbers, the polar method of Marsaglia and Bray (1964).
 *
 * @param seed Any whole number; its low 32 bits count.
 */
export function createRandom(seed: number): Random {
  // Typed arrays of one value: a captured number would be boxed anew at every draw.
  const state = Uint32Array.of(seed);
  const spare = new Float64Array(1);
  let hasSpare = false;
  const unit = (): number => {
    state[0] = state[0]! + 0x6d2b79f5;
    let x = state[0]!;
    x = Math.imul(x ^ (x >>> 15), x | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    uniform: (least, most) => least + (most - least) * unit(),
    normal() {
      hasSpare = !hasSpare;
      if (!hasSpare) return spare[0]!;
      for (;;) {
        const a = 2 * unit() - 1;
        const b = 2 * unit() - 1;
        const r = a * a + b * b;
        if (r > 0 && r < 1) {
          const scale = Math.sqrt((-2 * Math.log(r)) / r);
          spare[0] = b * scale;
          return a * scale;
        }
      }
    },
  };
}

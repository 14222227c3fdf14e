/** Seeded randomness for tests: the same seed gives the same numbers on every machine. */

/** Mulberry32, a public-domain generator by Tommy Ettinger (from memory): uniform in [0, 1). */
export function mulberry32(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Normal deviates of mean 0 and variance 1 from a uniform source (Box and Muller 1958). */
export function gaussian(uniform: () => number): () => number {
  let spare: number | null = null;
  return () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    // 1 − u lies in (0, 1], so the logarithm is finite.
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** White Gaussian noise of the given RMS. */
export function whiteNoise(seed: number, length: number, rms = 0.1): Float32Array<ArrayBuffer> {
  const normal = gaussian(mulberry32(seed));
  return Float32Array.from({ length }, () => rms * normal());
}

const FRAME_SECONDS = 0.024;
/** How far from its place a piece is looked for: half a period of a voice of 70 Hz. */
const SEARCH_SECONDS = 0.007;
/** Products that are summed per place in the first search, at about this rate. */
const COARSE_RATE_HZ = 8000;

/**
 * The same sound `factor` times as fast, its pitch and colour kept: pieces of 24 ms under Hann windows are laid over one another
 * by halves, each taken from where it best continues the one before (Verhelst and Roelands, "An overlap-add technique based on
 * waveform similarity", 1993, from memory).
 */
export function changeTempo(samples: Float32Array, sampleRateHz: number, factor: number): Float32Array {
  const half = Math.round((FRAME_SECONDS * sampleRateHz) / 2);
  const search = Math.round(SEARCH_SECONDS * sampleRateHz);
  const stride = Math.max(1, Math.floor(sampleRateHz / COARSE_RATE_HZ));
  const out = new Float32Array(Math.round(samples.length / factor));
  const window = Float64Array.from(
    { length: 2 * half },
    (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / half),
  );
  // Where the piece before would go on.
  let wanted = -half;
  for (let at = -half; at < out.length; at += half) {
    const centre = Math.round((at + half) * factor) - half;
    const from = at === -half ? centre : bestPlace(samples, wanted, centre, { half, search, stride });
    for (let i = Math.max(0, -at); i < 2 * half && at + i < out.length; i++)
      out[at + i] = (out[at + i] as number) + (window[i] as number) * (samples[from + i] ?? 0);
    wanted = from + half;
  }
  return out;
}

/** The place near `centre` whose next half frame is most like that at `wanted`: coarse first, then to the sample. */
function bestPlace(
  samples: Float32Array,
  wanted: number,
  centre: number,
  { half, search, stride }: { readonly half: number; readonly search: number; readonly stride: number },
): number {
  const likeness = (place: number): number => {
    let product = 0;
    let energy = 1e-12;
    for (let i = 0; i < half; i += stride) {
      const x = samples[place + i] ?? 0;
      product += x * (samples[wanted + i] ?? 0);
      energy += x * x;
    }
    return product / Math.sqrt(energy);
  };
  const best = (from: number, to: number, step: number): number => {
    let place = from;
    let most = Number.NEGATIVE_INFINITY;
    for (let p = from; p <= to; p += step) {
      const value = likeness(p);
      if (value > most) [place, most] = [p, value];
    }
    return place;
  };
  const coarse = best(centre - search, centre + search, stride);
  return best(coarse - stride, coarse + stride, 1);
}

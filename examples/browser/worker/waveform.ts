/** Least and greatest sample of stretches of a take. */
export interface Waveform {
  /** Values of `columns` equal parts of a range, over all channels. Where a part is shorter than a sample, that sample counts. */
  columns(
    startSample: number,
    endSample: number,
    columns: number,
  ): { readonly least: Float32Array<ArrayBuffer>; readonly most: Float32Array<ArrayBuffer> };
}

/** Samples that are looked at once and remembered as two numbers. */
const STRETCH_SAMPLES = 256;

/** Looks at every sample once, so that the whole of a long take is drawn as quickly as a part. */
export function createWaveform(channels: readonly Float32Array[]): Waveform {
  const length = channels[0]?.length ?? 0;
  const stretches = Math.ceil(length / STRETCH_SAMPLES);
  const leastOf = new Float32Array(stretches).fill(Number.POSITIVE_INFINITY);
  const mostOf = new Float32Array(stretches).fill(Number.NEGATIVE_INFINITY);
  for (let s = 0; s < stretches; s++) {
    const [low, high] = extremes(s * STRETCH_SAMPLES, Math.min(length, (s + 1) * STRETCH_SAMPLES));
    leastOf[s] = low;
    mostOf[s] = high;
  }
  return { columns };

  function columns(startSample: number, endSample: number, count: number) {
    const least = new Float32Array(count);
    const most = new Float32Array(count);
    const step = (endSample - startSample) / count;
    for (let c = 0; c < count; c++) {
      const from = Math.floor(startSample + c * step);
      const to = Math.min(length, Math.max(from + 1, Math.floor(startSample + (c + 1) * step)));
      const [low, high] = step < 2 * STRETCH_SAMPLES ? extremes(from, to) : remembered(from, to);
      least[c] = low;
      most[c] = high;
    }
    return { least, most };
  }

  function extremes(from: number, to: number): [number, number] {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const channel of channels)
      for (let i = from; i < to; i++) {
        const x = channel[i] as number;
        if (x < low) low = x;
        if (x > high) high = x;
      }
    return [low, high];
  }

  /** Over every stretch that the part reaches into: at most a stretch too much at each end, less than a column there. */
  function remembered(from: number, to: number): [number, number] {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let s = Math.floor(from / STRETCH_SAMPLES); s * STRETCH_SAMPLES < to; s++) {
      low = Math.min(low, leastOf[s] as number);
      high = Math.max(high, mostOf[s] as number);
    }
    return [low, high];
  }
}

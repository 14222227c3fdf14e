import { INPUT_COUNT } from './detection-scale.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** Groups of bands that a spectrum is told by: each from one number to the next. */
const BAND_GROUPS = [0, 2, 5, 8, 11, 14, 16] as const;

/** Frames of each stretch beside an event, nearest first. */
const STRETCHES = [4, 8] as const;

/** Number of measures that tell what stands beside an event. */
export const CONTEXT_MEASURE_COUNT: number = 2 * STRETCHES.length * (BAND_GROUPS.length - 1);

/** Adds the mean level of each group of bands over some frames, relative to this voice; frames beyond the ends are as the end. */
export function pushGroupLevels(
  out: number[],
  { inputs, rowCount }: Pick<FrameTables, 'inputs' | 'rowCount'>,
  from: number,
  to: number,
): void {
  for (let g = 1; g < BAND_GROUPS.length; g++) {
    const first = BAND_GROUPS[g - 1] as number;
    const end = BAND_GROUPS[g] as number;
    let sum = 0;
    for (let t = from; t < to; t++) {
      const row = Math.max(0, Math.min(rowCount - 1, t)) * INPUT_COUNT;
      for (let band = first; band < end; band++) sum += inputs[row + band] as number;
    }
    out.push(sum / (to - from) / (end - first));
  }
}

/**
 * Adds what stands beside an event: the spectrum of 21 ms and of the 43 ms beyond them, before it and after it. A vowel that
 * fades into its own breath is another neighbour to a noise than the closure of a t.
 */
export function pushContext(out: number[], tables: FrameTables, { start, end }: NoiseSpan): void {
  let before = start;
  for (const frames of STRETCHES) {
    pushGroupLevels(out, tables, before - frames, before);
    before -= frames;
  }
  let after = end;
  for (const frames of STRETCHES) {
    pushGroupLevels(out, tables, after, after + frames);
    after += frames;
  }
}

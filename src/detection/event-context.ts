import { INPUT_COUNT } from './detection-scale.js';
import type { FrameTables } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';

/** Groups of bands that a spectrum is told by: each from one number to the next. */
const BAND_GROUPS = [0, 2, 5, 8, 11, 14, 16] as const;

/** Frames of each stretch beside an event, nearest first. */
const STRETCHES = [4, 8] as const;

/** Number of measures that tell what stands beside an event. */
export const CONTEXT_MEASURE_COUNT: number = 2 * STRETCHES.length * (BAND_GROUPS.length - 1);

/** Mean level of each group of bands over some frames, relative to this voice; frames beyond the ends are as the end. */
export function groupLevels(
  { inputs, rowCount }: Pick<FrameTables, 'inputs' | 'rowCount'>,
  from: number,
  to: number,
): number[] {
  const sums = BAND_GROUPS.slice(1).map(() => 0);
  for (let t = from; t < to; t++) {
    const row = Math.max(0, Math.min(rowCount - 1, t)) * INPUT_COUNT;
    for (let g = 0; g < sums.length; g++)
      for (let band = BAND_GROUPS[g] as number; band < (BAND_GROUPS[g + 1] as number); band++)
        sums[g] = (sums[g] as number) + (inputs[row + band] as number);
  }
  return sums.map(
    (sum, g) => sum / (to - from) / ((BAND_GROUPS[g + 1] as number) - (BAND_GROUPS[g] as number)),
  );
}

/**
 * What stands beside an event: the spectrum of 21 ms and of the 43 ms beyond them, before it and after it. A vowel that
 * fades into its own breath is another neighbour to a noise than the closure of a t.
 */
export function eventContext(tables: FrameTables, { start, end }: NoiseSpan): number[] {
  const out: number[] = [];
  let before = start;
  for (const frames of STRETCHES) {
    out.push(...groupLevels(tables, before - frames, before));
    before -= frames;
  }
  let after = end;
  for (const frames of STRETCHES) {
    out.push(...groupLevels(tables, after, after + frames));
    after += frames;
  }
  return out;
}

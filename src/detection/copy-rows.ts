import type { Doubles } from '../signal/samples.js';

/** Copies every `step`th row, `count` of them, to the front of `out`; `out` may be the same array. */
export function copyRows(out: Doubles, rows: Doubles, count: number, width: number, step: number): void {
  if (step === 1) out.set(rows.subarray(0, count * width));
  else
    for (let to = 0, from = 0; to < count * width; to += width, from += step * width)
      for (let c = 0; c < width; c++) out[to + c] = rows[from + c] as number;
}

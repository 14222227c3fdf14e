import type { Doubles } from '../signal/samples.js';

/**
 * Rows between rows: row t of `out` lies in a straight line between rows ⌊t/step⌋ of `rows` and the next one, t mod step of `step`
 * parts of the way. Goes from the last to the first, so that `out` may be the same array.
 */
export function spreadRows(out: Doubles, rows: Doubles, rowCount: number, step: number, width: number): void {
  for (let t = rowCount - 1; t >= 0; t--) {
    const to = t * width;
    const from = Math.floor(t / step) * width;
    const share = (t % step) / step;
    if (share === 0) for (let c = 0; c < width; c++) out[to + c] = rows[from + c] as number;
    else
      for (let c = 0; c < width; c++)
        out[to + c] = (1 - share) * (rows[from + c] as number) + share * (rows[from + width + c] as number);
  }
}

import { type TimeFilter, tapShift } from '../../src/detection/filter-rows.js';

/** The way back: adds to the gradient of the taps, and to that of the rows, what a wished change of the result means. */
export function addFilterGradients(
  tapGradient: Float64Array,
  rowGradient: Float64Array,
  rows: Float64Array,
  taps: Float64Array,
  changes: Float64Array,
  rowCount: number,
  filter: TimeFilter,
): void {
  const { channelCount, kernelFrames } = filter;
  for (let k = 0; k < kernelFrames; k++) {
    const shift = tapShift(k, filter);
    const tap = k * channelCount;
    for (let t = Math.max(0, -shift), end = Math.min(rowCount, rowCount - shift); t < end; t++) {
      const to = t * channelCount;
      const from = to + shift * channelCount;
      for (let c = 0; c < channelCount; c++) {
        const change = changes[to + c] as number;
        tapGradient[tap + c] = (tapGradient[tap + c] as number) + change * (rows[from + c] as number);
        rowGradient[from + c] = (rowGradient[from + c] as number) + change * (taps[tap + c] as number);
      }
    }
  }
}

import type { TimeFilter } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';

export type { TimeFilter };

/** out[t, c] = Σₖ rows[t·step + (k − middle)·dilation, c] · taps[k, c], added from the first tap to the last. Gives the number of rows of `out`. */
export function filterRowsInto(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  rowCount: number,
  filter: TimeFilter,
): number {
  const { channelCount, kernelFrames, dilation, step } = filter;
  const reach = ((kernelFrames - 1) / 2) * dilation;
  const outCount = Math.ceil(rowCount / step);
  const first = Math.min(outCount, Math.ceil(reach / step));
  const end = Math.max(first, Math.min(outCount, Math.ceil((rowCount - reach) / step)));
  filterEnds(out, rows, taps, 0, first, rowCount, filter);
  const from = Math.max(0, first * step - reach) * channelCount;
  filterInner(out.subarray(first * channelCount), rows.subarray(from), taps, end - first, filter);
  filterEnds(out, rows, taps, end, outCount, rowCount, filter);
  return outCount;
}

/**
 * The same where every tap has its row: out[t, c] = Σₖ rows[t·step + k·dilation, c] · taps[k, c] for `outCount` rows. Reads as many
 * rows more as the filter is long.
 */
export function filterInner(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  outCount: number,
  { channelCount: width, kernelFrames, dilation, step }: TimeFilter,
): void {
  if (kernelFrames === FAST_TAPS) {
    fiveTaps(out, rows, taps, outCount, width, dilation * width, step * width);
    return;
  }
  for (let t = 0; t < outCount; t++)
    for (let c = 0; c < width; c++) {
      let sum = 0;
      for (let k = 0; k < kernelFrames; k++)
        sum += (rows[(t * step + k * dilation) * width + c] as number) * (taps[k * width + c] as number);
      out[t * width + c] = sum;
    }
}

/** Number of taps that have a loop of their own: the model of the package has so many. */
const FAST_TAPS = 5;

/** `apart` is the distance of two taps in numbers, `pace` that of the rows of two answers. */
function fiveTaps(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  outCount: number,
  width: number,
  apart: number,
  pace: number,
): void {
  for (let c = 0; c < width; c++) {
    const a = taps[c] as number;
    const b = taps[c + width] as number;
    const d = taps[c + 2 * width] as number;
    const e = taps[c + 3 * width] as number;
    const f = taps[c + 4 * width] as number;
    for (let t = 0, o = c, i = c; t < outCount; t++, o += width, i += pace)
      out[o] =
        (rows[i] as number) * a +
        (rows[i + apart] as number) * b +
        (rows[i + 2 * apart] as number) * d +
        (rows[i + 3 * apart] as number) * e +
        (rows[i + 4 * apart] as number) * f;
  }
}

/** Answers [from, to), whose taps may lie beyond the ends. */
function filterEnds(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  from: number,
  to: number,
  rowCount: number,
  filter: TimeFilter,
): void {
  const { channelCount, kernelFrames, step } = filter;
  out.fill(0, from * channelCount, to * channelCount);
  for (let k = 0; k < kernelFrames; k++) {
    const shift = tapShift(k, filter);
    const tap = k * channelCount;
    for (let t = from; t < to; t++) {
      const row = t * step + shift;
      if (row < 0 || row >= rowCount) continue;
      const at = t * channelCount;
      const source = row * channelCount;
      for (let c = 0; c < channelCount; c++)
        out[at + c] = (out[at + c] as number) + (rows[source + c] as number) * (taps[tap + c] as number);
    }
  }
}

/** Rows between the row that an answer is for and the one that tap k weighs. */
export function tapShift(k: number, { kernelFrames, dilation }: TimeFilter): number {
  return (k - (kernelFrames - 1) / 2) * dilation;
}

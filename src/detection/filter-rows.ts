import type { TimeFilter } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';

export type { TimeFilter };

/** out[t, c] = Σₖ rows[t + (k − middle)·dilation, c] · taps[k, c], added from the first tap to the last. */
export function filterRowsInto(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  rowCount: number,
  filter: TimeFilter,
): void {
  const { channelCount, kernelFrames, dilation } = filter;
  const reach = ((kernelFrames - 1) / 2) * dilation;
  const first = Math.min(rowCount, reach);
  const end = Math.max(first, rowCount - reach);
  filterEnds(out, rows, taps, 0, first, rowCount, filter);
  filterInner(out.subarray(first * channelCount), rows, taps, end - first, filter);
  filterEnds(out, rows, taps, end, rowCount, rowCount, filter);
}

/**
 * The same where every tap has its row: out[t, c] = Σₖ rows[t + k·dilation, c] · taps[k, c]. Reads `rowCount` rows and as many more as
 * the filter is long.
 */
export function filterInner(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  rowCount: number,
  { channelCount: width, kernelFrames, dilation }: TimeFilter,
): void {
  if (kernelFrames === FAST_TAPS) {
    fiveTaps(out, rows, taps, rowCount, width, dilation * width);
    return;
  }
  for (let t = 0; t < rowCount; t++)
    for (let c = 0; c < width; c++) {
      let sum = 0;
      for (let k = 0; k < kernelFrames; k++)
        sum += (rows[(t + k * dilation) * width + c] as number) * (taps[k * width + c] as number);
      out[t * width + c] = sum;
    }
}

/** Number of taps that have a loop of their own: the model of the package has so many. */
const FAST_TAPS = 5;

/** `step` is the distance of two taps in numbers. */
function fiveTaps(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  rowCount: number,
  width: number,
  step: number,
): void {
  for (let c = 0; c < width; c++) {
    const a = taps[c] as number;
    const b = taps[c + width] as number;
    const d = taps[c + 2 * width] as number;
    const e = taps[c + 3 * width] as number;
    const f = taps[c + 4 * width] as number;
    for (let t = 0, i = c; t < rowCount; t++, i += width)
      out[i] =
        (rows[i] as number) * a +
        (rows[i + step] as number) * b +
        (rows[i + 2 * step] as number) * d +
        (rows[i + 3 * step] as number) * e +
        (rows[i + 4 * step] as number) * f;
  }
}

/** Rows [from, to), whose taps may lie beyond the ends. */
function filterEnds(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  from: number,
  to: number,
  rowCount: number,
  filter: TimeFilter,
): void {
  const { channelCount, kernelFrames } = filter;
  out.fill(0, from * channelCount, to * channelCount);
  for (let k = 0; k < kernelFrames; k++) {
    const shift = tapShift(k, filter);
    const tap = k * channelCount;
    for (let t = Math.max(from, -shift), end = Math.min(to, rowCount - shift); t < end; t++) {
      const at = t * channelCount;
      const source = at + shift * channelCount;
      for (let c = 0; c < channelCount; c++)
        out[at + c] = (out[at + c] as number) + (rows[source + c] as number) * (taps[tap + c] as number);
    }
  }
}

/** Rows between a result and the row that tap k weighs. */
export function tapShift(k: number, { kernelFrames, dilation }: TimeFilter): number {
  return (k - (kernelFrames - 1) / 2) * dilation;
}

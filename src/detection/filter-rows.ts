import type { Doubles } from '../signal/samples.js';

/** A filter of its own for every channel over time: taps `dilation` frames apart, rows beyond the ends are 0. */
export interface TimeFilter {
  readonly channelCount: number;
  readonly kernelFrames: number;
  readonly dilation: number;
}

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
  const first = kernelFrames === FAST_TAPS ? Math.min(rowCount, reach) : rowCount;
  const end = Math.max(first, rowCount - reach);
  filterEnds(out, rows, taps, 0, first, rowCount, filter);
  fiveTaps(out, rows, taps, first, end, channelCount, dilation * channelCount);
  filterEnds(out, rows, taps, end, rowCount, rowCount, filter);
}

/** Number of taps that have a loop of their own: the model of the package has so many. */
const FAST_TAPS = 5;

/** Rows [from, to), all taps of which lie on rows that exist. `step` is the distance of two taps in numbers. */
function fiveTaps(
  out: Doubles,
  rows: Doubles,
  taps: Doubles,
  from: number,
  to: number,
  width: number,
  step: number,
): void {
  for (let t = from; t < to; t++) {
    const at = t * width;
    for (let c = 0; c < width; c++) {
      const i = at + c;
      out[i] =
        (rows[i - 2 * step] as number) * (taps[c] as number) +
        (rows[i - step] as number) * (taps[c + width] as number) +
        (rows[i] as number) * (taps[c + 2 * width] as number) +
        (rows[i + step] as number) * (taps[c + 3 * width] as number) +
        (rows[i + 2 * step] as number) * (taps[c + 4 * width] as number);
    }
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

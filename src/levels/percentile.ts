/** Share of `sorted` (rising) that is no greater than `value`, 0 to 100; NaN for an empty list. */
export function percentileOf(sorted: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((sorted[middle] as number) <= value) low = middle + 1;
    else high = middle;
  }
  return (100 * low) / sorted.length;
}

/** Numbers in rising order, as a new array. */
export function rising(values: Iterable<number>): number[] {
  return [...values].sort((a, b) => a - b);
}

/**
 * Sample quantile of rising numbers with linear interpolation at h = (n − 1)·p (R. J. Hyndman and Y. Fan, "Sample
 * quantiles in statistical packages", 1996, definition 7; from memory). NaN for an empty list.
 */
export function quantileOf(sorted: ArrayLike<number>, p: number): number {
  const position = (sorted.length - 1) * p;
  const below = Math.floor(position);
  const low = sorted[below] ?? Number.NaN;
  const high = sorted[below + 1] ?? low;
  return low + (high - low) * (position - below);
}

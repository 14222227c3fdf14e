/** Numbers in rising order, as a new array. */
export function rising(values: Iterable<number>): number[] {
  return [...values].sort((a, b) => a - b);
}

/**
 * Sample quantile of rising numbers with linear interpolation at h = (n − 1)·p, counted from 0 (R. J. Hyndman and Y. Fan, "Sample
 * quantiles in statistical packages", 1996, definition 7; from memory). NaN for an empty list.
 */
export function quantileOf(sorted: ArrayLike<number>, p: number): number {
  const position = (sorted.length - 1) * p;
  const below = Math.floor(position);
  const low = sorted[below] ?? Number.NaN;
  const high = sorted[below + 1] ?? low;
  const share = position - below;
  const step = high - low;
  // The difference of two huge numbers of either sign is beyond a double.
  return Number.isFinite(step) ? low + step * share : low + (high / 2 - low / 2) * share * 2;
}

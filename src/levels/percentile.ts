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

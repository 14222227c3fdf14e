const STEPS_SECONDS: readonly number[] = [
  0.0001, 0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120,
  300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400,
];

/** Ticks of a time axis. */
export interface TimeTicks {
  readonly seconds: readonly number[];
  /** Digits after the point that tell neighbours apart. */
  readonly decimals: number;
}

/**
 * Round times between two times, at most `most` of them: steps of 1, 2 or 5 in seconds, and of the clock from minutes on.
 *
 * @param fromSeconds and `toSeconds`: the range.
 * @param most at least 1.
 */
export function timeTicks(fromSeconds: number, toSeconds: number, most: number): TimeTicks {
  const least = (toSeconds - fromSeconds) / most;
  const step = STEPS_SECONDS.find((s) => s >= least) ?? Math.ceil(least / 86400) * 86400;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const seconds: number[] = [];
  for (let k = Math.ceil(fromSeconds / step - 1e-9); k * step <= toSeconds + step * 1e-9; k++)
    seconds.push(Number((k * step).toFixed(decimals)));
  return { seconds, decimals };
}

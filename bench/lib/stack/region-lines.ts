import { quantile } from '../../../src/evaluation/quantile.js';
import { errorsDb, type RegionError } from './forecast-errors.js';

/** 90th percentile of the errors, in dB; null where there are none. */
export function p90Db(errors: readonly RegionError[], anew: boolean): number | null {
  return errors.length === 0 ? null : quantile(errorsDb(errors, anew), 0.9);
}

/** For each chain: 90th percentile and greatest error of both measurements. */
export function chainLines(errors: readonly RegionError[]): readonly string[] {
  const chains = [...new Set(errors.map(({ chain }) => chain))];
  return chains.map((chain) => {
    const own = errors.filter((error) => error.chain === chain);
    const pair = (anew: boolean): string =>
      `${(p90Db(own, anew) ?? 0).toFixed(3)} (greatest ${(errorsDb(own, anew)[0] ?? 0).toFixed(3)})`;
    return `  ${chain}: ${own.length} regions, same samples ${pair(false)}, voice looked for anew ${pair(true)}`;
  });
}

/** One line for each region whose error is above `leastDb` in one of the measurements. */
export function regionLines(errors: readonly RegionError[], leastDb: number): readonly string[] {
  return errors
    .filter(
      ({ expectedDb, measuredDb, anewDb }) =>
        Math.max(Math.abs(measuredDb - expectedDb), Math.abs(anewDb - expectedDb)) > leastDb,
    )
    .map(
      ({ clip, chain, id, kind, startSeconds, expectedDb, measuredDb, anewDb }) =>
        `  ${clip}, ${chain}: region ${id} (${kind} at ${startSeconds.toFixed(2)} s) expected ${expectedDb.toFixed(2)}, same samples ${measuredDb.toFixed(2)}, anew ${anewDb.toFixed(2)} dB`,
    );
}

import type { RegionKind, RegionList } from '../regions/region.js';
import { ofKinds } from '../regions/regions-of-kind.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import { checkLevelTable } from './check-levels.js';
import type { LevelTable } from './region-level.js';

/** How a take's sibilance is spread, in dB relative to the neighbouring voice. */
export interface SibilanceSpread {
  /** Regions that have a sibilance. */
  readonly count: number;
  /** 10th percentile: the soft ones. */
  readonly p10Db: number;
  /** Median. */
  readonly p50Db: number;
  /** 90th percentile: the loud ones. */
  readonly p90Db: number;
  /** `p90Db − p10Db`. */
  readonly spreadDb: number;
}

/**
 * Spread of the sibilance of a list as it will be heard: measured sibilance plus the region's gain, the latter not
 * where it is bypassed. Percentiles by linear interpolation at (n − 1)·p.
 *
 * Fades are disregarded. A list whose gains are all 0 gives the spread as recorded.
 *
 * @param levels Measures of the list's regions. Regions that it does not hold (made since, or not asked for) and those
 * without a sibilance do not count.
 * @param list Regions with their gains.
 * @param kinds One kind or several. Default: sibilants.
 * @returns The spread, or null where no region counts. One region alone has a spread of 0.
 * @throws RangeError or TypeError for a kind that does not exist.
 * @see Hyndman and Fan, "Sample quantiles in statistical packages", 1996, definition 7 (from memory).
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { measureLevels, sibilanceSpread } from 'lenition/levels';
 * // A 200 Hz tone stands for the vowel, 0.1 s of a 6 kHz tone of half its amplitude for the s.
 * const tone = (i: number, hz: number) => Math.sin((2 * Math.PI * hz * i) / 48000);
 * const isNoise = (i: number) => i >= 24000 && i < 28800;
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => (isNoise(i) ? 0.1 * tone(i, 6000) : 0.2 * tone(i, 200)));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800, gainDb: -6 });
 * sibilanceSpread(measureLevels(samples, list), list)?.p50Db.toFixed(1); // => "-12.0"
 */
export function sibilanceSpread(
  levels: LevelTable,
  list: RegionList,
  kinds: RegionKind | readonly RegionKind[] = 'sibilant',
): SibilanceSpread | null {
  return spreadOf('sibilanceSpread', levels, list, kinds);
}

/** The same for another function, whose name the messages then carry. */
export function spreadOf(
  functionName: string,
  levels: LevelTable,
  list: RegionList,
  kinds: RegionKind | readonly RegionKind[],
): SibilanceSpread | null {
  checkLevelTable(functionName, levels);
  const heard: number[] = [];
  for (const { id, gainDb, bypassed } of ofKinds(functionName, list, kinds)) {
    const sibilanceDb = levels.byId.get(id)?.sibilanceDb ?? null;
    if (sibilanceDb !== null) heard.push(sibilanceDb + (bypassed ? 0 : gainDb));
  }
  if (heard.length === 0) return null;
  const sorted = rising(heard);
  const p10Db = quantileOf(sorted, 0.1);
  const p90Db = quantileOf(sorted, 0.9);
  return Object.freeze({
    count: sorted.length,
    p10Db,
    p50Db: quantileOf(sorted, 0.5),
    p90Db,
    spreadDb: p90Db - p10Db,
  });
}

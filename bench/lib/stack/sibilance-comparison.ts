import { createSibilanceMeter, sibilanceOf } from '../../../src/forecast/sibilance-meter.js';
import { DEFAULT_LEVEL_OPTIONS } from '../../../src/levels/level-options.js';
import { measureLevels } from '../../../src/levels/measure-levels.js';
import type { RegionList } from '../../../src/regions/region.js';
import type { Samples } from '../../../src/signal/samples.js';

/** Sibilance of one region of a processed clip, measured in two ways, in dB. */
export interface ComparedSibilance {
  /** Over the samples that were voice before it was processed: what a forecast speaks of. */
  readonly sameDb: number;
  /** By measureLevels on the processed sound alone, which finds its own voice: what one would measure who has only that file. */
  readonly anewDb: number;
}

/** A measurement of any processed form of a clip, by region; regions that lack a noise or a voice are left out. */
export function createSibilanceComparison(
  clip: Samples,
  list: RegionList,
): (processed: Samples) => ReadonlyMap<number, ComparedSibilance> {
  const meter = createSibilanceMeter([clip], list, list.regions, DEFAULT_LEVEL_OPTIONS.neighbourSeconds);
  return (processed) => {
    const anew = measureLevels(processed, list).byId;
    const same = meter.measure([processed]).map(sibilanceOf);
    return new Map(
      list.regions.flatMap(({ id }, r): [number, ComparedSibilance][] => {
        const sameDb = same[r] ?? null;
        const anewDb = anew.get(id)?.sibilanceDb ?? null;
        return sameDb === null || anewDb === null ? [] : [[id, { sameDb, anewDb }]];
      }),
    );
  };
}

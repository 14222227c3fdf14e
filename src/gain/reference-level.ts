import type { LevelTable, RegionLevel } from '../levels/region-level.js';
import type { RegionList } from '../regions/region.js';
import { quantileOf, rising } from '../signal/quantile-of.js';

/**
 * An s-like or sh-like sound of which a take has n takes n/(n + 4) of its reference from its own kind and the rest from all
 * sibilants: one sh would else be measured against itself, and no sh of a short song would ever be found loud.
 */
const BORROWED_COUNT = 4;

/**
 * The level that stands for a take's sibilance at a percentile of the region's own kind; null for a region without a sibilance.
 *
 * Over all measured regions of the list, whatever is chosen and whatever their gains, so that a decision for one region hangs
 * on the same figure as a decision for all, and can be repeated.
 */
export function referenceByKind(list: RegionList, levels: LevelTable, percentile: number): Reference {
  const quantiles = groupQuantiles(list, levels, percentile, ({ kind }) => kind);
  return ({ kind, sibilanceDb }) => (sibilanceDb === null ? null : (quantiles.get(kind)?.valueDb ?? null));
}

/** The same, but s-like and sh-like sibilants apart, each drawn towards all sibilants where there are few of it. */
export function referenceBySound(list: RegionList, levels: LevelTable, percentile: number): Reference {
  const ofKind = referenceByKind(list, levels, percentile);
  const sounds = groupQuantiles(list, levels, percentile, ({ sound }) => sound);
  return (level) => {
    const all = ofKind(level);
    const own = level.kind === 'sibilant' && level.sound !== null ? sounds.get(level.sound) : undefined;
    if (all === null || own === undefined) return all;
    // As a step from its own: exact where the two agree, so that no rounding is left to be cut.
    return own.valueDb + ((all - own.valueDb) * BORROWED_COUNT) / (own.count + BORROWED_COUNT);
  };
}

/** A reference level, in dB, from a region's measures. */
export type Reference = (level: RegionLevel) => number | null;

interface GroupQuantile {
  readonly count: number;
  readonly valueDb: number;
}

function groupQuantiles(
  list: RegionList,
  levels: LevelTable,
  percentile: number,
  groupOf: (level: RegionLevel) => string | null,
): ReadonlyMap<string, GroupQuantile> {
  const groups = new Map<string, number[]>();
  for (const { id } of list.regions) {
    const level = levels.byId.get(id);
    if (level === undefined || level.sibilanceDb === null) continue;
    const name = groupOf(level);
    if (name === null) continue;
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [level.sibilanceDb]);
    else group.push(level.sibilanceDb);
  }
  const quantiles = new Map<string, GroupQuantile>();
  for (const [name, group] of groups)
    quantiles.set(name, { count: group.length, valueDb: quantileOf(rising(group), percentile / 100) });
  return quantiles;
}

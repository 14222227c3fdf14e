import { checkLevelTable } from '../levels/check-levels.js';
import type { LevelTable } from '../levels/region-level.js';
import { type SibilanceSpread, spreadOf } from '../levels/sibilance-spread.js';
import { checkListShape } from '../regions/check-list-shape.js';
import { REGION_KINDS, type RegionKind, type RegionList } from '../regions/region.js';
import { checkArray, checkFields, checkObject, rangeError, typeError } from '../signal/check.js';
import { changesAudio } from './changes-audio.js';

/** What a summary is told beside the list and its levels. */
export interface SummaryOptions {
  /** Kinds whose sibilance is summed up. Default: sibilants. */
  readonly kinds?: RegionKind | readonly RegionKind[];
  /**
   * Measures of the same regions in the rendered clip. Left out: `after` is worked out from the gains, which takes fades
   * for full gain and a gain within a band for one of the whole region.
   */
  readonly levelsAfter?: LevelTable;
  /** Regions that a guard has flagged: anything with an `id`, the same id counted once. Default: none. */
  readonly flags?: readonly {
    /** Id of the region in its list. */
    readonly id: number;
  }[];
}

/** The regions of one kind, in numbers. */
export interface KindSummary {
  /** How many regions. */
  readonly count: number;
  /** Those that are neither bypassed nor at 0 dB. */
  readonly changedCount: number;
  /** Largest cut among them, in dB, as a positive number; 0 for none. */
  readonly largestCutDb: number;
}

/** What was done to a take, in numbers. */
export interface TakeSummary extends KindSummary {
  /** Every kind, also those without a region. */
  readonly byKind: Readonly<Record<RegionKind, KindSummary>>;
  /** Sum of the lengths of the changed regions, fades included, in seconds. */
  readonly touchedSeconds: number;
  /** The same as a share of the clip, 0 to 1; 0 for an empty clip. */
  readonly touchedShare: number;
  /** Spread of the sibilance as recorded; null where no region has one. */
  readonly before: SibilanceSpread | null;
  /** Spread of the sibilance as rendered. */
  readonly after: SibilanceSpread | null;
  /** Regions that were flagged. */
  readonly flagCount: number;
}

/**
 * Sums up a whole take: how far the sibilance is spread before and after, how much of the take is touched, the largest
 * cut, the flags, and the same by kind.
 *
 * Bypassed regions and those at 0 dB are counted, but touch nothing and cut nothing. A boost touches, but is no cut. The
 * spread is P90 − P10 of the sibilance in dB (see sibilanceSpread); it falls when the loud ones are cut more than the soft.
 *
 * @param list - The regions of the take with their gains. No regions: zeros, and null for the spreads.
 * @param levels - What they measure as recorded; see measureLevels.
 * @param options - Kinds to measure the spread of, measures of the rendered clip, flags.
 * @returns A frozen object.
 * @throws RangeError for a flag on an unknown region or a kind that does not exist; TypeError for values of the wrong kind.
 *
 * Source: common practice, no source.
 *
 * @example
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * import { summariseTake } from 'lenition/gain';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegions(empty, [
 *   { kind: 'sibilant', startSample: 0, endSample: 4800, gainDb: -6 },
 *   { kind: 'breath', startSample: 9600, endSample: 14400, gainDb: -9, bypassed: true },
 * ]);
 * const levels = { sampleRateHz: 48000, byId: new Map(), voiceDbfs: null };
 * const summary = summariseTake(list, levels, { flags: [{ id: 1 }] });
 * [summary.count, summary.changedCount, summary.touchedShare, summary.largestCutDb]; // => [2, 1, 0.1, 6]
 * [summary.byKind.breath.count, summary.byKind.breath.largestCutDb, summary.flagCount]; // => [1, 0, 1]
 */
export function summariseTake(
  list: RegionList,
  levels: LevelTable,
  options: SummaryOptions = {},
): TakeSummary {
  checkListShape('summariseTake', list);
  checkObject('summariseTake', 'options', options);
  checkFields('summariseTake', 'options', options, ['kinds', 'levelsAfter', 'flags']);
  const { kinds = 'sibilant', levelsAfter, flags = [] } = options;
  checkLevelTable('summariseTake', levels);
  if (levelsAfter !== undefined) checkLevelTable('summariseTake', levelsAfter, 'levelsAfter');
  const byKind = {} as Record<RegionKind, KindSummary>;
  for (const kind of REGION_KINDS)
    byKind[kind] = summed({ ...list, regions: list.regions.filter((region) => region.kind === kind) });
  const touchedSamples = list.regions
    .filter(changesAudio)
    .reduce((sum, { startSample, endSample }) => sum + endSample - startSample, 0);
  const flat = { ...list, regions: list.regions.map((region) => ({ ...region, gainDb: 0 })) };
  return Object.freeze({
    ...summed(list),
    byKind: Object.freeze(byKind),
    touchedSeconds: touchedSamples / list.sampleRateHz,
    touchedShare: list.lengthSamples === 0 ? 0 : touchedSamples / list.lengthSamples,
    before: spreadOf('summariseTake', levels, flat, kinds),
    after:
      levelsAfter === undefined
        ? spreadOf('summariseTake', levels, list, kinds)
        : spreadOf('summariseTake', levelsAfter, flat, kinds),
    flagCount: countFlags(list, flags),
  });
}

function summed({ regions }: RegionList): KindSummary {
  const changed = regions.filter(changesAudio);
  const largestCutDb = changed.reduce((most, { gainDb }) => Math.max(most, -gainDb), 0);
  return Object.freeze({ count: regions.length, changedCount: changed.length, largestCutDb });
}

function countFlags(list: RegionList, flags: readonly { readonly id: number }[]): number {
  checkArray('summariseTake', 'flags', flags);
  const known = new Set(list.regions.map(({ id }) => id));
  const ids = new Set<number>();
  flags.forEach((flag, i) => {
    const id: unknown = flag?.id;
    if (typeof id !== 'number') throw typeError('summariseTake', `flags[${i}].id`, 'must be a number', id);
    if (!known.has(id))
      throw rangeError('summariseTake', `flags[${i}].id`, 'must be the id of a region of the list', id);
    ids.add(id);
  });
  return ids.size;
}

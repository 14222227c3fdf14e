import { decideGain, REGION_CHOICE_FIELDS, type RegionChoice } from '../gain/change-gain.js';
import { gainBefore } from '../gain/gain-before.js';
import { renderGain } from '../gain/render-gain.js';
import { DEFAULT_LEVEL_OPTIONS } from '../levels/level-options.js';
import { measureLevels } from '../levels/measure-levels.js';
import { floorsFor, GUARD_FIELDS, type GuardOptions } from '../levels/over-cut-floors.js';
import { editRegions } from '../regions/edit-regions.js';
import { LEAST_GAIN_DB, type Region, type RegionList } from '../regions/region.js';
import { checkInteger, checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Samples } from '../signal/samples.js';
import { withDefaults } from '../signal/with-defaults.js';
import type { Chain } from './chain.js';
import { type CutSearch, createCutSearch } from './cut-search.js';
import { forecastInput } from './forecast-rise.js';
import { passChain } from './run-chain.js';
import { createSibilanceMeter, sibilanceOf } from './sibilance-meter.js';

/** Settings of preemptiveCut; what is left out has its value from DEFAULT_PREEMPTIVE_CUT_OPTIONS. */
export interface PreemptiveCutOptions extends RegionChoice, GuardOptions {
  /**
   * Sibilance behind the chain that louder regions are brought down to, in dB, −100 to 100; null: for each region the one it
   * has in front of the chain with the list's gains, so that the chain lifts nothing. A gain that an earlier call has set does not count,
   * but the one that it found.
   */
  readonly targetDb?: number | null;
  /** Greatest cut, in dB, 0 to 120. */
  readonly maxCutDb?: number;
  /** How near to the target is near enough, in dB, 0.01 to 6. */
  readonly toleranceDb?: number;
  /** Most runs of the chain, 2 to 50. */
  readonly mostPasses?: number;
}

/** Defaults of preemptiveCut. 12 dB: two presses of the usual cut (common practice, no source). */
export const DEFAULT_PREEMPTIVE_CUT_OPTIONS: Readonly<
  Required<Pick<PreemptiveCutOptions, 'targetDb' | 'maxCutDb' | 'toleranceDb' | 'mostPasses'>>
> = Object.freeze({ targetDb: null, maxCutDb: 12, toleranceDb: 0.25, mostPasses: 10 });

/** A chosen region that will not sit at its target. */
export interface UnreachedRegion {
  /** Id of the region in its list. */
  readonly id: number;
  /** Sibilance behind the chain with the gain that it got, in dB; null without a voice or in silence. */
  readonly afterDb: number | null;
  /** Where it was to sit, in dB; null where it has no sibilance. */
  readonly targetDb: number | null;
  /**
   * `most cut`: the greatest cut is not enough. `guard`: the cut stops at the floor of the over-cut guard. `not settled`: the
   * passes ran out. `nothing to compare`: it has no sibilance; its gain stays as it was.
   */
  readonly cause: 'most cut' | 'guard' | 'not settled' | 'nothing to compare';
}

/** What preemptiveCut decided. */
export interface PreemptiveCut {
  /** The list with the new gains. */
  readonly list: RegionList;
  /** In order of time. */
  readonly unreached: readonly UnreachedRegion[];
  /** How often the chain was run. */
  readonly passes: number;
}

interface Solved {
  readonly region: Region;
  readonly search: CutSearch;
  readonly targetDb: number;
  readonly floorDb: number | undefined;
  readonly cause: 'most cut' | 'guard';
}

/**
 * The gain to apply now so that behind the chain each region sits at the target. A compressor is not linear and remembers, so the
 * chain is run again with the new gains: every pass renders all regions at once, measures each behind the chain, and
 * moves its gain along the secant of its last two results, kept inside what is known to be too much and too little. It
 * ends when all are within `toleranceDb` of their target or at a limit, or after `mostPasses` runs.
 *
 * Gains are set, not added; none is above 0 dB: a region that stays under its target at 0 dB is left at 0 dB. No cut goes beyond
 * `maxCutDb`, nor below the floor of overCutFloors, which looks at the sound in front of the chain (`guard: false` lifts that).
 * Locked and bypassed regions and those not chosen keep their gains, and are heard with them.
 *
 * @param channels The clip as recorded, one channel or several, each `list.lengthSamples` long; not changed.
 * @param list Regions of the clip; not changed. Edges and fades are not touched.
 * @param chain What the mix will do.
 * @param options Target, limits, tolerance and choice of regions (sibilants unless stated).
 * @returns The new list; changed regions carry the reason `{ rule: 'preemptiveCut', numbers: { baseGainDb, targetDb, afterDb, maxCutDb,
 * floorDb, gainDb } }` (`floorDb` only where there is a guard). And what was not reached, with its cause.
 * @throws TypeError or RangeError as `forecastRise`, and for an option outside its range.
 * @see Any text on numerical methods for the safeguarded secant method; the rest is common practice.
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { preemptiveCut } from 'lenition/forecast';
 * // A 200 Hz tone stands for the vowel, 0.1 s of a 6 kHz tone for the s.
 * const tone = (i: number, hz: number) => Math.sin((2 * Math.PI * hz * i) / 48000);
 * const isNoise = (i: number) => i >= 24000 && i < 28800;
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => (isNoise(i) ? 0.1 * tone(i, 6000) : 0.2 * tone(i, 200)));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800 });
 * const bright = { stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 4 }] }] } as const;
 * preemptiveCut(samples, list, bright).list.regions[0]?.gainDb.toFixed(1); // => '-3.8'
 */
export function preemptiveCut(
  channels: Channels,
  list: RegionList,
  chain: Chain,
  options: PreemptiveCutOptions = {},
): PreemptiveCut {
  const { clip } = forecastInput('preemptiveCut', channels, list, chain, {});
  const { maxCutDb, toleranceDb, mostPasses } = settingsOf(options);
  const regions = chosenRegions(list, options);
  const meter = createSibilanceMeter(clip, list, regions, DEFAULT_LEVEL_OPTIONS.neighbourSeconds);
  const solved = prepare(
    clip,
    list,
    regions,
    meter.measure(renderGain(clip, listBefore(list, regions))).map(sibilanceOf),
    options,
  );
  const tried = (): RegionList => {
    const gains = new Map(solved.map(({ region, search }) => [region.id, search.gainDb]));
    return decideGain('preemptiveCut', list, options, ({ id }) => {
      const gainDb = gains.get(id);
      return gainDb === undefined ? undefined : { gainDb, numbers: {} };
    });
  };
  const places = new Map(regions.map(({ id }, r) => [id, r]));
  let passes = 0;
  while (solved.length > 0) {
    const sound = passChain('preemptiveCut', renderGain(clip, tried()), chain, list.sampleRateHz, () => {});
    const measured = meter.measure(sound).map(sibilanceOf);
    passes++;
    for (const { region, search } of solved)
      search.heard(measured[places.get(region.id) as number] ?? Number.NEGATIVE_INFINITY);
    if (passes >= mostPasses || solved.every(({ search }) => search.settled(toleranceDb))) break;
    for (const { search } of solved) search.move(toleranceDb);
  }
  const byId = new Map(solved.map((entry) => [entry.region.id, entry]));
  return Object.freeze({
    list: decideGain('preemptiveCut', list, options, ({ id }) => {
      const entry = byId.get(id);
      if (entry === undefined) return undefined;
      const { region, search, targetDb, floorDb } = entry;
      const baseGainDb = gainBefore('preemptiveCut', region);
      const floor = floorDb === undefined ? {} : { floorDb };
      // A chain that silenced the region leaves nothing to tell; reasons hold finite numbers alone.
      const after = Number.isFinite(search.afterDb) ? { afterDb: search.afterDb } : {};
      return { gainDb: search.gainDb, numbers: { baseGainDb, targetDb, ...after, maxCutDb, ...floor } };
    }),
    unreached: Object.freeze(regions.flatMap(({ id }) => unreachedOf(id, byId.get(id), toleranceDb))),
    passes,
  });
}

function settingsOf(options: PreemptiveCutOptions): {
  targetDb: number | null;
  maxCutDb: number;
  toleranceDb: number;
  mostPasses: number;
} {
  const settings = checkedOptions('preemptiveCut', DEFAULT_PREEMPTIVE_CUT_OPTIONS, options, [
    ...REGION_CHOICE_FIELDS,
    ...GUARD_FIELDS,
  ]);
  const { targetDb, maxCutDb, toleranceDb, mostPasses } = settings;
  if (targetDb !== null) checkNumber('preemptiveCut', 'targetDb', targetDb, -100, 100);
  checkNumber('preemptiveCut', 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  checkNumber('preemptiveCut', 'toleranceDb', toleranceDb, 0.01, 6);
  checkInteger('preemptiveCut', 'mostPasses', mostPasses, 2, 50);
  return settings;
}

/** The regions that a gain decision with these options would take. */
function chosenRegions(list: RegionList, options: RegionChoice): readonly Region[] {
  const chosen: Region[] = [];
  decideGain('preemptiveCut', list, options, (region) => {
    chosen.push(region);
    return undefined;
  });
  return chosen;
}

/** The list as it was before an earlier call: a target taken from that call's own gains would sink from call to call. */
function listBefore(list: RegionList, regions: readonly Region[]): RegionList {
  const chosen = new Set(regions);
  return editRegions(list, (region) =>
    chosen.has(region) ? { gainDb: gainBefore('preemptiveCut', region) } : undefined,
  );
}

/** A search for each region that has a sibilance, within its own limits. */
function prepare(
  clip: readonly Samples[],
  list: RegionList,
  regions: readonly Region[],
  entering: readonly (number | null)[],
  options: PreemptiveCutOptions,
): readonly Solved[] {
  const { maxCutDb, targetDb } = withDefaults(DEFAULT_PREEMPTIVE_CUT_OPTIONS, options);
  const levels = measureLevels(clip, list);
  const floors = floorsFor('preemptiveCut', list, levels, options);
  return regions.flatMap((region, r): Solved[] => {
    const entersAt = entering[r] ?? null;
    const recordedDb = levels.byId.get(region.id)?.sibilanceDb ?? null;
    if (entersAt === null || recordedDb === null) return [];
    const floorDb = floors.get(region.id)?.floorDb;
    const roomDb = floorDb === undefined ? Number.POSITIVE_INFINITY : Math.max(0, recordedDb - floorDb);
    const target = targetDb ?? entersAt;
    return [
      {
        region,
        search: createCutSearch(target, 0 - Math.min(maxCutDb, roomDb)),
        targetDb: target,
        floorDb,
        cause: roomDb < maxCutDb ? 'guard' : 'most cut',
      },
    ];
  });
}

function unreachedOf(id: number, entry: Solved | undefined, toleranceDb: number): UnreachedRegion[] {
  if (entry === undefined)
    return [Object.freeze({ id, afterDb: null, targetDb: null, cause: 'nothing to compare' })];
  const { search, targetDb } = entry;
  if (search.reached(toleranceDb)) return [];
  const cause = search.atLeastGain ? entry.cause : 'not settled';
  return [Object.freeze({ id, afterDb: search.afterDb, targetDb, cause })];
}

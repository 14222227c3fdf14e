import { decideGain, type RegionChoice } from '../gain/change-gain.js';
import { guardedCut } from '../gain/guarded-cut.js';
import { referenceBySound } from '../gain/reference-level.js';
import { floorsFor, GUARD_FIELDS, type GuardOptions } from '../levels/over-cut-floors.js';
import type { LevelTable } from '../levels/region-level.js';
import { LEAST_GAIN_DB } from '../regions/region.js';
import { checkNumber, rangeError, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { assertTakes, leadOf, nameOf } from './check-takes.js';
import type { StackLevels } from './hold-sum.js';
import { mapLists } from './stack-decision.js';
import type { LeadOption, Take } from './take.js';

/** Settings of sameFeel; what is left out has its value from DEFAULT_SAME_FEEL_OPTIONS. Ids of regions make no sense across takes. */
export interface SameFeelOptions extends LeadOption, GuardOptions, Omit<RegionChoice, 'ids' | 'between'> {
  /** Which percentile of the lead's own sound is the target of all, 0 to 100; 50 is the median. */
  readonly targetPercentile?: number;
  /** Greatest cut, in dB, 0 to 120. */
  readonly maxCutDb?: number;
}

/** Defaults of sameFeel: those of levelledCut. */
export const DEFAULT_SAME_FEEL_OPTIONS: Readonly<
  Required<Pick<SameFeelOptions, 'targetPercentile' | 'maxCutDb'>>
> = Object.freeze({
  targetPercentile: 20,
  maxCutDb: 6,
});

const RULE = 'sameFeel';

/**
 * One decision for every take: each chosen region is brought down towards the sibilance of the lead, as levelledCut does it
 * in one take. A harmony whose esses stand further above its voice than the lead's do is cut more.
 *
 * gain = −min(max(0, sibilance − target), maxCutDb, room above the guard's floor). Sibilance is relative to the take's own voice, so
 * faders do not matter. The target is a percentile of the lead's own sound, s-like and sh-like apart. The guard holds every take,
 * lead and others, by its own f and th (`guard: false` lifts that).
 *
 * Gains are set, not added: doing it twice changes nothing. Locked and bypassed regions stay as they are, and so do those without a sibilance.
 *
 * @param takes - The stack; not changed.
 * @param levels - The measures of every take, by id, as measureLevels gives them.
 * @param options - Percentile, limits, guard, choice of regions (sibilants unless stated), and which take leads.
 * @returns The takes, with new lists where something changes; the same array where nothing does. Chosen regions carry the reason
 *   `{ rule: 'sameFeel', numbers: { sibilanceDb, targetDb, wantedCutDb, maxCutDb, floorDb, gainDb } }`, without `floorDb` where there is no guard.
 * @throws As checkTakes; RangeError for a take without measures or with those of another rate, an option out of range.
 *
 * Source: common practice.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { sameFeel } from 'lenition/takes';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const list = insertRegion(clip, { kind: 'sibilant', startSample: 2400, endSample: 7200 });
 * const takes = ['lead', 'high'].map((id) => ({ id, channels: new Float32Array(9600), list, offsetSamples: 0, gainDb: 0 }));
 * // Levels as measureLevels gives them, of which only these fields matter here.
 * const table = (sibilanceDb: number) => ({
 *   sampleRateHz: 48000, voiceDbfs: -20, byId: new Map([[1, { id: 1, kind: 'sibilant', sound: 's-like', sibilanceDb } as never]]),
 * });
 * const levels = new Map([['lead', table(-4)], ['high', table(0)]]);
 * sameFeel(takes, levels).map((take) => take.list.regions[0]?.gainDb); // => [0, -4]
 */
export function sameFeel(
  takes: readonly Take[],
  levels: StackLevels,
  options: SameFeelOptions = {},
): readonly Take[] {
  const { targetPercentile, maxCutDb } = checkedOptions('sameFeel', DEFAULT_SAME_FEEL_OPTIONS, options, [
    'leadId',
    'kinds',
    'minConfidence',
    ...GUARD_FIELDS,
  ]);
  checkNumber(RULE, 'targetPercentile', targetPercentile, 0, 100);
  checkNumber(RULE, 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  if (!(levels instanceof Map)) throw typeError(RULE, 'levels', 'must be a Map', levels);
  assertTakes(RULE, takes);
  const lead = leadOf(RULE, takes, options);
  for (const { id } of takes)
    if (!levels.has(id)) throw rangeError(RULE, 'levels', 'must hold every take', nameOf(id));
  const leadTable = levels.get(lead.id) as LevelTable;
  const target = referenceBySound(lead.list, leadTable, targetPercentile);
  return mapLists(takes, ({ id, list }) => {
    const table = levels.get(id) as LevelTable;
    const floors = floorsFor(RULE, list, table, options);
    const { kinds, minConfidence } = options;
    const choice = { ...(kinds && { kinds }), ...(minConfidence !== undefined && { minConfidence }) };
    return decideGain(RULE, list, choice, (region) => {
      const level = table.byId.get(region.id);
      const targetDb = level === undefined ? null : target(level);
      if (level === undefined || level.sibilanceDb === null || targetDb === null) return undefined;
      const wantedCutDb = Math.max(0, level.sibilanceDb - targetDb);
      return guardedCut(region, level.sibilanceDb, wantedCutDb, { targetDb }, { floors, maxCutDb });
    });
  });
}

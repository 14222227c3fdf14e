import { gainBefore } from '../gain/gain-before.js';
import { floorsFor, GUARD_FIELDS, type GuardOptions } from '../levels/over-cut-floors.js';
import type { LevelTable } from '../levels/region-level.js';
import { LEAST_GAIN_DB, type Region } from '../regions/region.js';
import { checkNumber, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { EventGroup, EventMember } from './event-group.js';
import { createGroupSum, powerOver } from './group-sum.js';
import { heardMember } from './heard-member.js';
import { leastCut } from './least-cut.js';
import { ledGroups, noteGain, type Stack, type StackGains, stackOf, withGains } from './stack-decision.js';
import type { LeadOption, Take, TakeId } from './take.js';

/** Measures of takes, by id of the take. */
export type StackLevels = ReadonlyMap<TakeId, LevelTable>;

/** Settings of holdSum; what is left out has its value from DEFAULT_HOLD_SUM_OPTIONS. */
export interface HoldSumOptions extends LeadOption, GuardOptions {
  /** How far the sum of a group may stand above the lead alone, in dB, −20 to 40. */
  readonly targetDb?: number;
  /** Greatest further cut of a member, in dB, 0 to 120. */
  readonly maxCutDb?: number;
  /** How near to the target the sum must be brought, in dB, 0.001 to 3. */
  readonly toleranceDb?: number;
  /** Measures of the takes as recorded. A take that has them is held by its over-cut guard; left out: none is. */
  readonly levels?: StackLevels;
}

/**
 * Defaults of holdSum. 2 dB: about what seven voices cut by 12 dB leave over the lead (1.6 dB, closed form). 18 dB: one
 * step beyond the usual 12 (common practice, no source). 0.05 dB: far less than anybody hears.
 */
export const DEFAULT_HOLD_SUM_OPTIONS: Readonly<
  Required<Pick<HoldSumOptions, 'targetDb' | 'maxCutDb' | 'toleranceDb'>>
> = Object.freeze({ targetDb: 2, maxCutDb: 18, toleranceDb: 0.05 });

const RULE = 'holdSum';

/** A region that may come down, and how far. */
interface Movable {
  readonly member: EventMember;
  readonly region: Region;
  readonly baseGainDb: number;
  readonly mostCutDb: number;
}

/**
 * Holds the sum of every group at a target over the lead: where it stands higher, every other member is cut further, all by the same
 * amount, by as little as brings the sum to the target.
 *
 * The amount is found on the measured signals, not by the estimate: the members are rendered with their gains and fades, placed, summed and
 * measured as in measureGroups, until the sum is within `toleranceDb` below the target. Members that have something in common are so
 * heard as they add up. A member stops at `maxCutDb` of further cut, at LEAST_GAIN_DB, or, where its take has `levels`, at the floor of its over-cut
 * guard (`guard: false` lifts that); the rest goes on. Where even that is not enough, or a locked member is too loud, all go as far as
 * they may; measureGroups then tells what is left.
 *
 * Gains before the decision are kept in the reason: doing it twice changes nothing, a new target starts from the same place, and a
 * sum that needs no cut gets its gains back. The lead, groups without it or with a silent one, muted regions, and members with a locked or bypassed one stay as they are,
 * but sound in the sum. Each group is solved by itself, with the gains before around it; where two groups touch in a take, the fade between
 * them may leave a hundredth of a dB.
 *
 * @param takes - The stack; not changed.
 * @param groups - Its groups, as groupEvents gives them.
 * @param options - Target, limits, tolerance, guard, and which take leads.
 * @returns The takes, with new lists where something changes; the same array where nothing does. Changed regions carry the reason
 *   `{ rule: 'holdSum', numbers: { baseGainDb, furtherCutDb, targetDb, overLeadBeforeDb, maxCutDb, gainDb } }`.
 * @throws As measureGroups; RangeError or TypeError for an option out of range.
 *
 * Source: common practice, no source; the search is bisection with the secant rule, any text on numerical methods.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { groupEvents, holdSum, measureGroups } from 'lenition/takes';
 * const hiss = (hz: number) => Float32Array.from({ length: 9600 }, (_, i) => 0.1 * Math.sin((2 * Math.PI * hz * i) / 48000));
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const list = insertRegion(clip, { kind: 'sibilant', startSample: 2400, endSample: 7200 });
 * const takes = [5000, 6000, 7000].map((hz) => ({ id: hz, channels: hiss(hz), list, offsetSamples: 0, gainDb: 0 }));
 * const groups = groupEvents(takes);
 * measureGroups(takes, groups)[0]?.overLeadDb?.toFixed(1); // => '4.8'
 * measureGroups(holdSum(takes, groups), groups)[0]?.overLeadDb?.toFixed(1); // => '2.0'
 */
export function holdSum(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: HoldSumOptions = {},
): readonly Take[] {
  const { targetDb, maxCutDb, toleranceDb, levels } = checkedOptions(
    'holdSum',
    DEFAULT_HOLD_SUM_OPTIONS,
    options,
    ['leadId', 'levels', ...GUARD_FIELDS],
  );
  checkNumber(RULE, 'targetDb', targetDb, -20, 40);
  checkNumber(RULE, 'maxCutDb', maxCutDb, 0, -LEAST_GAIN_DB);
  checkNumber(RULE, 'toleranceDb', toleranceDb, 0.001, 3);
  if (levels !== undefined && !(levels instanceof Map))
    throw typeError(RULE, 'levels', 'must be a Map', levels);
  const stack = stackOf(RULE, takes, groups, options);
  const leastGainOf = guardedGains(stack, levels, options);
  const gains: StackGains = new Map();
  for (const { group, lead, others } of ledGroups(groups, stack.lead.id)) {
    const movable = others.flatMap((member) =>
      (stack.freeRegionsOf(member) ?? []).flatMap((region): readonly Movable[] => {
        const baseGainDb = gainBefore(RULE, region);
        if (baseGainDb <= LEAST_GAIN_DB) return [];
        const leastGainDb = Math.max(LEAST_GAIN_DB, leastGainOf(member.takeId, region.id));
        const mostCutDb = Math.max(0, Math.min(maxCutDb, baseGainDb - leastGainDb));
        return [{ member, region, baseGainDb, mostCutDb }];
      }),
    );
    const overLead = sumOverLead(stack, group, lead, movable);
    if (overLead === null) continue;
    const overLeadBeforeDb = overLead(0);
    const cutDb = leastCut(overLead, { mostCutDb: maxCutDb, targetDb, toleranceDb });
    for (const { member, region, baseGainDb, mostCutDb } of movable) {
      // What needs no cut and never had one keeps its reason.
      if (cutDb === 0 && region.reason.rule !== RULE) continue;
      const furtherCutDb = Math.min(cutDb, mostCutDb);
      const before = Number.isFinite(overLeadBeforeDb) ? { overLeadBeforeDb } : {};
      const numbers = { baseGainDb, furtherCutDb, targetDb, ...before, maxCutDb };
      noteGain(gains, member.takeId, region.id, { gainDb: baseGainDb - furtherCutDb, numbers });
    }
  }
  return withGains(RULE, takes, gains);
}

/** How far a group's sum stands above its lead when the movable members are cut, in dB; null where the lead is silent or none may move. */
function sumOverLead(
  stack: Stack,
  group: EventGroup,
  lead: EventMember,
  movable: readonly Movable[],
): ((cutDb: number) => number) | null {
  if (movable.length === 0) return null;
  const takeOf = ({ takeId }: EventMember): Take => stack.byId.get(takeId) as Take;
  const moving = new Set(movable.map(({ member }) => member));
  const standing = createGroupSum(group, stack.channelCount);
  const leadHeard = heardMember(RULE, takeOf(lead), lead);
  standing.add(leadHeard);
  for (const member of group.members)
    if (member !== lead && !moving.has(member)) standing.add(heardMember(RULE, takeOf(member), member));
  const leadPower = powerOver(group, leadHeard);
  if (leadPower === 0) return null;
  return (cutDb) => {
    const gains = new Map<TakeId, Map<number, number>>();
    for (const { member, region, baseGainDb, mostCutDb } of movable) {
      const own = gains.get(member.takeId) ?? new Map<number, number>();
      gains.set(member.takeId, own.set(region.id, baseGainDb - Math.min(cutDb, mostCutDb)));
    }
    const heard = [...moving].map((member) =>
      heardMember(RULE, takeOf(member), member, gains.get(member.takeId)),
    );
    return 10 * Math.log10(standing.powerWith(heard) / leadPower);
  };
}

/** The least gain that the guard of each take leaves a region; −Infinity where there is none. */
function guardedGains(
  stack: Stack,
  levels: StackLevels | undefined,
  options: GuardOptions,
): (takeId: TakeId, regionId: number) => number {
  const byTake = new Map<TakeId, ReadonlyMap<number, number>>();
  for (const [id, table] of levels ?? []) {
    const take = stack.byId.get(id);
    if (take === undefined) continue;
    const least = new Map<number, number>();
    for (const [regionId, { floorDb }] of floorsFor(RULE, take.list, table, options)) {
      const sibilanceDb = table.byId.get(regionId)?.sibilanceDb;
      if (typeof sibilanceDb === 'number') least.set(regionId, Math.min(0, floorDb - sibilanceDb));
    }
    byTake.set(id, least);
  }
  return (takeId, regionId) => byTake.get(takeId)?.get(regionId) ?? Number.NEGATIVE_INFINITY;
}

import { decideGain, type GainDecision } from '../gain/change-gain.js';
import { REGION_KINDS, type Region, type RegionList } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import { assertTakes, leadOf, nameOf } from './check-takes.js';
import type { EventGroup, EventMember } from './event-group.js';
import { indexStack, type StackIndex } from './group-sum.js';
import type { LeadOption, Take, TakeId } from './take.js';

/** What a decision about a stack works on. */
export interface Stack extends StackIndex {
  readonly takes: readonly Take[];
  readonly lead: Take;
  /** The regions of a member, in order of time. */
  regionsOf(member: EventMember): readonly Region[];
  /** The same where a decision may change them; null where one of them is locked or bypassed: half a noise would be left. */
  freeRegionsOf(member: EventMember): readonly Region[] | null;
}

/** A group that the lead is a member of. */
export interface LedGroup {
  readonly group: EventGroup;
  readonly lead: EventMember;
  readonly others: readonly EventMember[];
}

/** Checks takes and groups and makes them easy to ask. */
export function stackOf(
  functionName: string,
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: LeadOption,
): Stack {
  assertTakes(functionName, takes);
  const lead = leadOf(functionName, takes, options);
  const index = indexStack(functionName, takes, groups);
  const regions = new Map(takes.map(({ id, list }) => [id, byId(list)]));
  const regionsOf = ({ takeId, regionIds }: EventMember): readonly Region[] =>
    regionIds.map((id) => {
      const region = regions.get(takeId)?.get(id);
      if (region === undefined)
        throw rangeError(`${functionName}: ${nameOf(takeId)}`, 'groups', 'must name regions of its list', id);
      return region;
    });
  return {
    ...index,
    takes,
    lead,
    regionsOf,
    freeRegionsOf(member) {
      const own = regionsOf(member);
      return own.some(({ locked, bypassed }) => locked || bypassed) ? null : own;
    },
  };
}

function byId({ regions }: RegionList): ReadonlyMap<number, Region> {
  return new Map(regions.map((region) => [region.id, region]));
}

/** The groups that the lead and another take are members of; the rest has nothing to stand behind or nobody to stand there. */
export function ledGroups(groups: readonly EventGroup[], leadId: TakeId): readonly LedGroup[] {
  return groups.flatMap((group) => {
    const lead = group.members.find(({ takeId }) => takeId === leadId);
    const others = group.members.filter(({ takeId }) => takeId !== leadId);
    return lead === undefined || others.length === 0 ? [] : [{ group, lead, others }];
  });
}

/** New gains by take and region. */
export type StackGains = Map<TakeId, Map<number, GainDecision>>;

/** Notes a decision for one region. */
export function noteGain(gains: StackGains, takeId: TakeId, regionId: number, decision: GainDecision): void {
  const own = gains.get(takeId);
  if (own === undefined) gains.set(takeId, new Map([[regionId, decision]]));
  else own.set(regionId, decision);
}

/** The takes with new gains; takes that keep theirs are the same objects, and so is the array where all do. */
export function withGains(rule: string, takes: readonly Take[], gains: StackGains): readonly Take[] {
  return mapLists(takes, ({ id, list }) => {
    const own = gains.get(id);
    if (own === undefined) return list;
    return decideGain(rule, list, { kinds: REGION_KINDS }, (region) => own.get(region.id));
  });
}

/** The takes with other lists, shared where nothing changes. */
export function mapLists(takes: readonly Take[], listOf: (take: Take) => RegionList): readonly Take[] {
  const next = takes.map((take) => {
    const list = listOf(take);
    return list === take.list ? take : Object.freeze({ ...take, list });
  });
  return next.every((take, t) => take === takes[t]) ? takes : Object.freeze(next);
}

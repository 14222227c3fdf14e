import { checkFields, checkObject } from '../signal/check.js';
import { assertTakes, leadOf } from './check-takes.js';
import type { EventGroup } from './event-group.js';
import { createGroupSum, indexStack, powerOver, type StackIndex } from './group-sum.js';
import { heardMember } from './heard-member.js';
import type { LeadOption, Take, TakeId } from './take.js';

/** How loud one member is. */
export interface MemberLevel {
  /** The take. */
  readonly takeId: TakeId;
  /** RMS over the span of the group, where it is silent outside of its own noise, in dBFS: the figure that members compare and add by. */
  readonly levelDbfs: number;
  /** RMS over its own noise, in dBFS. */
  readonly ownDbfs: number;
}

/** How loud the members of one group are, each and together. −Infinity dBFS stands for digital silence. */
export interface GroupLevel {
  /** Id of the group. */
  readonly groupId: number;
  /** In the order of the group's members. */
  readonly members: readonly MemberLevel[];
  /** RMS of the summed signals over the span of the group, in dBFS. */
  readonly sumDbfs: number;
  /** 10·log10 Σ 10^(levelDbfs/10): what the sum would be if the members had nothing in common. */
  readonly estimateDbfs: number;
  /** Level of the lead's own member over the span of the group, in dBFS; null where the lead has none. */
  readonly leadDbfs: number | null;
  /** How far the measured sum stands above the lead alone, in dB; null without a lead or where it is silent. */
  readonly overLeadDb: number | null;
}

/**
 * Measures each group as it sounds: with the gains of the lists and the faders of the takes.
 *
 * The noises of the members, from onset to end each, are placed on the common time line and added sample by sample; the level is that of
 * the sum over the group's span, from the earliest onset to the latest end. What a take sings beside its noise in that time, a vowel
 * that it is late or early with, is left out: no gain of the group reaches it. All levels of a group are over the same span, so the
 * ratio of sum and lead is that of their energies, however ragged the group is.
 *
 * A mono take goes into every channel of a wider sum; powers are averaged over channels. Only samples of the groups' noises are looked at.
 *
 * @param takes - The stack.
 * @param groups - Its groups, as groupEvents gives them.
 * @param options - Which take leads.
 * @returns A frozen array, one entry per group in their order.
 * @throws As checkTakes; RangeError for groups of another stack, an unknown lead, NaN or infinity in a noise (with its index).
 *
 * Source: addition of powers of sounds that have nothing in common, any text on acoustics (closed form).
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { groupEvents, measureGroups } from 'lenition/takes';
 * // Two takes of one and the same hiss add up to 6 dB more than one; as strangers they would to 3 dB.
 * const channels = Float32Array.from({ length: 9600 }, (_, i) => 0.1 * Math.sin((2 * Math.PI * 6000 * i) / 48000));
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const list = insertRegion(clip, { kind: 'sibilant', startSample: 2400, endSample: 7200 });
 * const takes = ['lead', 'double'].map((id) => ({ id, channels, list, offsetSamples: 0, gainDb: 0 }));
 * const level = measureGroups(takes, groupEvents(takes))[0];
 * level?.overLeadDb?.toFixed(2); // => '6.02'
 * level?.estimateDbfs.toFixed(1); // => '-20.0'
 * level?.sumDbfs.toFixed(1); // => '-17.0'
 */
export function measureGroups(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: LeadOption = {},
): readonly GroupLevel[] {
  checkObject('measureGroups', 'options', options);
  checkFields('measureGroups', 'options', options, ['leadId']);
  return groupLevels('measureGroups', takes, groups, options);
}

/** The same for another function, whose name the messages then carry. */
export function groupLevels(
  functionName: string,
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: LeadOption,
): readonly GroupLevel[] {
  assertTakes(functionName, takes);
  const leadId = leadOf(functionName, takes, options).id;
  const stack = indexStack(functionName, takes, groups);
  return Object.freeze(groups.map((group) => measureGroup(functionName, stack, group, leadId)));
}

function measureGroup(
  functionName: string,
  stack: StackIndex,
  group: EventGroup,
  leadId: TakeId,
): GroupLevel {
  const sum = createGroupSum(group, stack.channelCount);
  let estimate = 0;
  let lead: number | null = null;
  const members = group.members.map((member) => {
    const heard = heardMember(functionName, stack.byId.get(member.takeId) as Take, member);
    sum.add(heard);
    const power = powerOver(group, heard);
    estimate += power;
    if (member.takeId === leadId) lead = power;
    const own = (power * (group.endSample - group.startSample)) / (member.endSample - member.onsetSample);
    return Object.freeze({ takeId: member.takeId, levelDbfs: level(power), ownDbfs: level(own) });
  });
  const power = sum.powerWith();
  return Object.freeze({
    groupId: group.id,
    members: Object.freeze(members),
    sumDbfs: level(power),
    estimateDbfs: level(estimate),
    leadDbfs: lead === null ? null : level(lead),
    overLeadDb: lead === null || lead === 0 ? null : level(power / lead),
  });
}

function level(power: number): number {
  return 10 * Math.log10(power);
}

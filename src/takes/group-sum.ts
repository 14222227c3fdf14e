import { channelList, checkArray, checkObject, rangeError } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { channelCount, nameOf } from './check-takes.js';
import type { EventGroup, EventMember } from './event-group.js';
import type { HeardMember } from './heard-member.js';
import type { Take, TakeId } from './take.js';

/** Adds up the members of a group on the common time line, channel by channel; a mono take goes to every channel. */
export function createGroupSum(group: EventGroup, channelsOfSum: number): GroupSum {
  const length = group.endSample - group.startSample;
  const channels = Array.from({ length: channelsOfSum }, () => new Float64Array(length));
  return {
    add(member) {
      const at = member.startSample - group.startSample;
      channels.forEach((sum, c) => {
        const own = (member.channels.length === 1 ? member.channels[0] : member.channels[c]) as Doubles;
        for (let i = 0; i < own.length; i++) sum[at + i] = (sum[at + i] as number) + (own[i] as number);
      });
    },
    powerWith(others = []) {
      const copy = others.length === 0 ? null : createGroupSum(group, channelsOfSum);
      if (copy === null) return meanSquare(channels, length);
      copy.add({ startSample: group.startSample, channels });
      for (const other of others) copy.add(other);
      return copy.powerWith();
    },
  };
}

/** A running sum of members. */
export interface GroupSum {
  add(member: HeardMember): void;
  /** Mean square over the group's span and the channels, with some more members that are not kept. */
  powerWith(others?: readonly HeardMember[]): number;
}

/** Mean square of a member over the span of its group: outside of its noise it counts as silent. */
export function powerOver(group: EventGroup, { channels }: HeardMember): number {
  return meanSquare(channels, group.endSample - group.startSample);
}

function meanSquare(channels: readonly Doubles[], length: number): number {
  let sum = 0;
  for (const channel of channels) {
    let own = 0;
    for (const x of channel) own += x * x;
    sum += own;
  }
  return sum / (length * channels.length);
}

/** Takes by id, and how many channels their sum has. */
export interface StackIndex {
  readonly byId: ReadonlyMap<TakeId, Take>;
  readonly channelCount: number;
}

/** An index of checked takes, after a check that the groups speak of them. */
export function indexStack(
  functionName: string,
  takes: readonly Take[],
  groups: readonly EventGroup[],
): StackIndex {
  checkArray(functionName, 'groups', groups);
  const byId = new Map(takes.map((take) => [take.id, take]));
  groups.forEach((group, i) => {
    checkObject(functionName, `groups[${i}]`, group);
    checkArray(functionName, `groups[${i}].members`, group.members);
    for (const member of group.members) checkMember(functionName, group, member, byId);
  });
  return { byId, channelCount: Math.max(...takes.map(channelCount)) };
}

function checkMember(
  functionName: string,
  group: EventGroup,
  { takeId, onsetSample, endSample }: EventMember,
  byId: ReadonlyMap<TakeId, Take>,
): void {
  const take = byId.get(takeId);
  const name = `group ${group.id}`;
  if (take === undefined)
    throw rangeError(`${functionName}: ${name}`, 'members', 'must be of takes of the stack', takeId);
  const first = take.offsetSamples;
  const past = first + (channelList(functionName, take.channels)[0]?.length ?? 0);
  if (onsetSample < first || endSample > past || onsetSample >= endSample)
    throw rangeError(
      `${functionName}: ${name}`,
      `member of ${nameOf(takeId)}`,
      `must lie within its take, [${first}, ${past}): group again after takes were moved`,
      onsetSample,
    );
}

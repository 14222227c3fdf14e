import { REGION_KINDS, type RegionKind } from '../regions/region.js';
import { checkArray, checkChoice, checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { assertTakes } from './check-takes.js';
import { compareIds, type EventGroup, type EventMember } from './event-group.js';
import { matchEvents, type PlacedEvent } from './match-events.js';
import { type Sound, soundsOf } from './sounds-of.js';
import { compareSpans } from './span.js';
import type { Take, TakeId } from './take.js';

/** Settings of groupEvents; what is left out has its value from DEFAULT_GROUP_OPTIONS. */
export interface GroupOptions {
  /** Kinds to group, each by itself. An s and an sh are both sibilants; so is the hiss of a ch. */
  readonly kinds?: readonly RegionKind[];
  /** How far an event may lie from the median of its group, in seconds, 0.001 to 1: the mean of onset and end. */
  readonly toleranceSeconds?: number;
  /** Leave out events whose first region has less confidence, 0 to 1. */
  readonly minConfidence?: number;
}

/**
 * Defaults of groupEvents. 120 ms: singers of a stack who are each up to 60 ms off the beat are at most that far apart (common
 * practice, no source), and two sibilants of one take begin at least 150 ms apart in most words.
 */
export const DEFAULT_GROUP_OPTIONS: Readonly<Required<GroupOptions>> = Object.freeze({
  kinds: Object.freeze(['sibilant'] as const),
  toleranceSeconds: 0.12,
  minConfidence: 0,
});

interface TakeEvent extends PlacedEvent {
  readonly sound: Sound;
}

/**
 * Finds which events of the takes belong together: one group for each consonant of the song, with one event per take at most.
 *
 * Two events are as far apart as the mean of the distance of their onsets and that of their ends, on the common time line. First
 * the nearest groups without a common take are joined, again and again, while their medians (of onset and of end) lie within the
 * tolerance. Then each take's events are aligned anew to these medians, in order, at the least total distance, where an event that is left alone
 * counts as the tolerance, and this is repeated until nothing changes (20 rounds at most). So an early ch is not taken for the z before it
 * as long as the take has both: words come in one order in all takes. At last each group is taken out, the smallest first, if the two before and the two
 * after it can take in its events within the tolerance: no take gets an event of its own because it was late. Of equal distances the earlier wins, then the lesser id. The order
 * of the takes does not matter.
 *
 * A noise that was split counts as one event, to the end of what is heard of it: a tail that was faded early and muted does not. Locked and bypassed
 * regions sound like all others, so they are members too.
 *
 * @param takes - One or more takes of one sample rate.
 * @param options - Kinds, tolerance, least confidence.
 * @returns A frozen array in order of time; groups of one member are in it. Empty where no take has an event of the kinds.
 * @throws As checkTakes, and RangeError or TypeError for an option out of range.
 *
 * Source: common practice; the alignment is that of sequences (Needleman and Wunsch 1970, from memory).
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { groupEvents } from 'lenition/takes';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const take = (id: string, startSample: number) => ({
 *   id, channels: new Float32Array(48000), offsetSamples: 0, gainDb: 0,
 *   list: insertRegion(clip, { kind: 'sibilant', startSample, endSample: startSample + 4800 }),
 * });
 * const groups = groupEvents([take('lead', 9600), take('high', 11520), take('low', 30000)]);
 * groups.map((group) => group.members.map((member) => member.takeId)); // => [['lead', 'high'], ['low']]
 * groups[0]?.onsetSpreadSeconds; // => 0.04
 * groups[0]?.missingTakeIds; // => ['low']
 */
export function groupEvents(takes: readonly Take[], options: GroupOptions = {}): readonly EventGroup[] {
  assertTakes('groupEvents', takes);
  const { kinds, toleranceSeconds, minConfidence } = checkedOptions(
    'groupEvents',
    DEFAULT_GROUP_OPTIONS,
    options,
  );
  checkArray('groupEvents', 'kinds', kinds);
  for (const kind of kinds as readonly RegionKind[]) checkChoice('groupEvents', 'kinds', kind, REGION_KINDS);
  checkNumber('groupEvents', 'toleranceSeconds', toleranceSeconds, 0.001, 1);
  checkNumber('groupEvents', 'minConfidence', minConfidence, 0, 1);
  const { sampleRateHz } = (takes[0] as Take).list;
  const events = takes.flatMap((take) => eventsOf(take, minConfidence));
  const groups = REGION_KINDS.filter((kind) => kinds.includes(kind)).flatMap((kind) =>
    matchEvents(
      events.filter(({ sound }) => sound.kind === kind),
      toleranceSeconds * sampleRateHz,
    ).map((members) => describeGroup(kind, members, takes)),
  );
  groups.sort(compareSpans);
  return Object.freeze(groups.map((group, g) => Object.freeze({ ...group, id: g + 1 })));
}

function eventsOf({ id, list, offsetSamples }: Take, minConfidence: number): TakeEvent[] {
  return soundsOf(list.regions)
    .filter(({ regions }) => (regions[0]?.confidence ?? 0) >= minConfidence)
    .map((sound) => ({
      takeId: id,
      sound,
      startSample: offsetSamples + sound.startSample,
      endSample: offsetSamples + sound.endSample,
    }));
}

function describeGroup(
  kind: RegionKind,
  events: readonly TakeEvent[],
  takes: readonly Take[],
): Omit<EventGroup, 'id'> {
  const byTake = new Map(events.map((event) => [event.takeId, event]));
  const members: EventMember[] = takes.flatMap(({ id }) => {
    const event = byTake.get(id);
    if (event === undefined) return [];
    const { startSample: onsetSample, endSample, sound } = event;
    const regionIds = Object.freeze(sound.regions.map((region) => region.id));
    return [Object.freeze({ takeId: id, regionIds, onsetSample, endSample })];
  });
  const byOnset = inOrderOf(members, ({ onsetSample }) => onsetSample);
  const byEnd = inOrderOf(members, ({ endSample }) => endSample);
  const startSample = byOnset.first.onsetSample;
  const { endSample } = byEnd.last;
  const others = takes.filter(({ id }) => !byTake.has(id));
  const isThere = ({ offsetSamples, list }: Take): boolean =>
    offsetSamples < endSample && offsetSamples + list.lengthSamples > startSample;
  const idsOf = (some: readonly Take[]): readonly TakeId[] => Object.freeze(some.map(({ id }) => id));
  const { sampleRateHz } = (takes[0] as Take).list;
  return {
    kind,
    startSample,
    endSample,
    members: Object.freeze(members),
    missingTakeIds: idsOf(others.filter(isThere)),
    absentTakeIds: idsOf(others.filter((take) => !isThere(take))),
    onsetSpreadSeconds: (byOnset.last.onsetSample - startSample) / sampleRateHz,
    endSpreadSeconds: (endSample - byEnd.first.endSample) / sampleRateHz,
    firstTakeId: byOnset.first.takeId,
    lastTakeId: byOnset.last.takeId,
    firstToEndTakeId: byEnd.first.takeId,
    lastToEndTakeId: byEnd.last.takeId,
  };
}

/** First and last by a value; of equals the lesser id is both the first and the last. */
function inOrderOf(
  members: readonly EventMember[],
  timeOf: (member: EventMember) => number,
): { readonly first: EventMember; readonly last: EventMember } {
  const byId = [...members].sort((a, b) => compareIds(a.takeId, b.takeId));
  let first = byId[0] as EventMember;
  let last = first;
  for (const member of byId) {
    if (timeOf(member) < timeOf(first)) first = member;
    if (timeOf(member) > timeOf(last)) last = member;
  }
  return { first, last };
}

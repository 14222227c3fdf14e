import type { EventGroup } from '../../../src/takes/event-group.js';
import type { Take, TakeId } from '../../../src/takes/take.js';

/** One consonant of the song, in the samples of one take. */
export interface TrueEvent {
  /** Which consonant of the song it is: the same number in every take. */
  readonly event: number;
  readonly startSample: number;
  readonly endSample: number;
}

/** How many groups hold the regions of one consonant, all of them and no others. */
export interface GroupingScore {
  readonly right: number;
  /** Groups judged; those of regions that match no consonant of the truth in any take are the detector's affair and are not. */
  readonly judged: number;
  /** Ids of the groups that are wrong. */
  readonly wrong: readonly number[];
}

/**
 * Judges groups. A region stands for a consonant when they share at least half of the shorter of the two; a region over two consonants
 * that touch may stand for either. A group is right where one consonant is common to all of its members and no region that stands
 * for this consonant alone is in another group.
 */
export function groupingScore(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  truth: ReadonlyMap<TakeId, readonly TrueEvent[]>,
): GroupingScore {
  const events = groups.map((group) => group.members.map((member) => eventsOf(takes, member, truth)));
  const wrong: number[] = [];
  let judged = 0;
  groups.forEach((group, g) => {
    const members = events[g] as readonly (readonly number[])[];
    if (members.every((own) => own.length === 0)) return;
    judged++;
    const common = (members[0] ?? []).filter((event) => members.every((own) => own.includes(event)));
    const isWhole = (event: number): boolean =>
      events.every((others, o) => o === g || others.every((own) => own.length !== 1 || own[0] !== event));
    if (!common.some(isWhole)) wrong.push(group.id);
  });
  return { right: judged - wrong.length, judged, wrong };
}

function eventsOf(
  takes: readonly Take[],
  { takeId, onsetSample, endSample }: EventGroup['members'][number],
  truth: ReadonlyMap<TakeId, readonly TrueEvent[]>,
): readonly number[] {
  const offset = takes.find(({ id }) => id === takeId)?.offsetSamples ?? 0;
  const from = onsetSample - offset;
  const to = endSample - offset;
  return (truth.get(takeId) ?? [])
    .filter(({ startSample, endSample: end }) => {
      const shared = Math.min(to, end) - Math.max(from, startSample);
      return 2 * shared >= Math.min(to - from, end - startSample);
    })
    .map(({ event }) => event);
}

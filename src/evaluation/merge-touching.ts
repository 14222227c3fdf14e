import { checkNumber } from '../signal/check.js';
import { checkEvents, type SoundEvent } from './sound-event.js';

/**
 * Joins events that touch or nearly touch, so that one unbroken noise with two labels counts once. The events of one
 * result run from the first start to the last end of its members.
 *
 * `events`: sorted by start, otherwise they are sorted here. `gapSeconds`: events closer than this are joined (0.005 s
 * by default: half the 10 ms grid on which most forced alignments lie). An empty list gives an empty list.
 *
 * @returns groups of the events that belong together, in order of time
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { mergeTouching } from 'lenition/evaluation';
 * const s = { startSeconds: 0, endSeconds: 0.1, label: 's' };
 * const z = { startSeconds: 0.102, endSeconds: 0.2, label: 'z' };
 * mergeTouching([s, z]).length; // => 1
 */
export function mergeTouching<T extends SoundEvent>(
  events: readonly T[],
  gapSeconds: number = 0.005,
): readonly (readonly T[])[] {
  checkEvents('mergeTouching', 'events', events);
  checkNumber('mergeTouching', 'gapSeconds', gapSeconds, 0);
  const groups: T[][] = [];
  let end = Number.NEGATIVE_INFINITY;
  for (const event of [...events].sort((a, b) => a.startSeconds - b.startSeconds)) {
    const group = groups.at(-1);
    if (group !== undefined && event.startSeconds - end < gapSeconds) group.push(event);
    else groups.push([event]);
    // An event may end before one that began earlier, so the end of a group is the latest so far.
    end = Math.max(end, event.endSeconds);
  }
  return groups;
}

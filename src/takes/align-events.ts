import type { Span } from './span.js';
import { spanDistance } from './span.js';

/**
 * Which of `centres` each of `events` belongs to, −1 for none: the assignment that keeps both in order, one event to a centre, at the
 * least total cost, where a pair costs its distance and an event without a centre costs `most`. Both must be in order of
 * time. Pairs further apart than `most` are never made. Of equally good ones that is taken which pairs the earlier.
 *
 * Dynamic programming over prefixes, as in the alignment of sequences (Needleman and Wunsch 1970, from memory).
 */
export function alignEvents(
  events: readonly Span[],
  centres: readonly Span[],
  most: number,
): readonly number[] {
  const width = centres.length + 1;
  // cost[e·width + c]: best for the first e events and c centres.
  const cost = new Float64Array((events.length + 1) * width);
  for (let e = 1; e <= events.length; e++) {
    cost[e * width] = e * most;
    for (let c = 1; c < width; c++) {
      const distance = spanDistance(events[e - 1] as Span, centres[c - 1] as Span);
      const alone = (cost[(e - 1) * width + c] as number) + most;
      const unused = cost[e * width + c - 1] as number;
      const paired =
        distance <= most ? (cost[(e - 1) * width + c - 1] as number) + distance : Number.POSITIVE_INFINITY;
      cost[e * width + c] = Math.min(alone, unused, paired);
    }
  }
  const partner = new Array<number>(events.length).fill(-1);
  let e = events.length;
  let c = centres.length;
  while (e > 0 && c > 0) {
    const best = cost[e * width + c] as number;
    if (best === cost[e * width + c - 1]) c--;
    else if (best === (cost[(e - 1) * width + c] as number) + most) e--;
    else partner[--e] = --c;
  }
  return partner;
}

import type { SoundEvent } from './sound-event.js';

/** Finds the events that start within a stretch of time. */
export type StartIndex = (fromSeconds: number, toSeconds: number) => readonly number[];

/**
 * Sorts events by start once, so that those that start within [from, to] are found by bisection. The finder returns
 * their positions in `events`, ascending. Building costs n·log n, a search log n plus what it finds.
 *
 * @example
 * import { indexByStart } from 'lenition/evaluation';
 * const at = (startSeconds) => ({ startSeconds, endSeconds: 9, label: 's' });
 * indexByStart([at(5), at(1), at(3)])(2, 5); // => [0, 2]
 */
export function indexByStart(events: readonly SoundEvent[]): StartIndex {
  const order = events.map((_, i) => i).sort((a, b) => start(events, a) - start(events, b) || a - b);
  return (fromSeconds, toSeconds) => {
    let low = 0;
    let high = order.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (start(events, order[middle] as number) < fromSeconds) low = middle + 1;
      else high = middle;
    }
    const found: number[] = [];
    for (let k = low; k < order.length; k++) {
      const i = order[k] as number;
      if (start(events, i) > toSeconds) break;
      found.push(i);
    }
    return found.sort((a, b) => a - b);
  };
}

function start(events: readonly SoundEvent[], index: number): number {
  return (events[index] as SoundEvent).startSeconds;
}

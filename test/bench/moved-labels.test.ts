import { describe, expect, it } from 'vitest';
import { MOVED_SECONDS, movedLabels } from '../../bench/lib/moved-labels.js';
import { secondsBetween } from '../../bench/lib/seconds-between.js';
import type { PhoneEvent } from '../../src/evaluation/phone-event.js';
import { phoneTally } from '../../src/evaluation/phone-tally.js';
import type { RegionEvent } from '../../src/evaluation/region-events.js';

const s = (startSeconds: number, endSeconds: number, voiced = false): PhoneEvent => ({
  startSeconds,
  endSeconds,
  label: voiced ? 'z' : 's',
  phoneClass: 'sibilant',
  voiced,
  tongueStop: false,
});
const found = (
  startSeconds: number,
  endSeconds: number,
  label: RegionEvent['label'] = 'sibilant',
): RegionEvent => ({ startSeconds, endSeconds, label, confidence: 0.9 });

function moved(labels: readonly PhoneEvent[], regions: readonly RegionEvent[]) {
  return movedLabels(phoneTally(labels, regions, 10));
}

describe('secondsBetween', () => {
  it('is the gap, or how long both are there, below 0', () => {
    const [a, b] = [found(1, 2), found(2.5, 4)];
    expect(secondsBetween(a, b)).toBe(0.5);
    expect(secondsBetween(b, a)).toBe(0.5);
    expect(secondsBetween(a, found(1.75, 4))).toBe(-0.25);
  });
});

describe('movedLabels', () => {
  it('counts none that was found, and none of which nothing is near', () => {
    expect(moved([s(1, 1.1)], [found(1.02, 1.1)])).toEqual({ sibilants: 0, unvoiced: 0 });
    expect(moved([s(1, 1.1)], [])).toEqual({ sibilants: 0, unvoiced: 0 });
  });

  it('reaches as far as labels are off, before and after', () => {
    const reach = MOVED_SECONDS;
    for (const [gap, count] of [
      [0.9 * reach, 1],
      [1.1 * reach, 0],
    ] as const) {
      expect(moved([s(1, 1.1)], [found(1.1 + gap, 1.3)]).sibilants).toBe(count);
      expect(moved([s(1, 1.1)], [found(0.8, 1 - gap)]).sibilants).toBe(count);
    }
  });

  it('gives a find to one label alone, to the one that it shares most with', () => {
    expect(moved([s(1, 1.1), s(1.14, 1.24)], [found(1.105, 1.135)]).sibilants).toBe(1);
    // The find is matched with the second label: nothing is left for the first.
    expect(moved([s(1, 1.1), s(1.14, 1.24)], [found(1.12, 1.24)]).sibilants).toBe(0);
  });

  it('asks of unvoiced ones for any harsh kind, and of the others for a sibilant', () => {
    expect(moved([s(1, 1.1)], [found(1.12, 1.2, 'burst')])).toEqual({ sibilants: 0, unvoiced: 1 });
    expect(moved([s(1, 1.1)], [found(1.12, 1.2, 'breath')])).toEqual({ sibilants: 0, unvoiced: 0 });
    expect(moved([s(1, 1.1, true)], [found(1.12, 1.2)])).toEqual({ sibilants: 1, unvoiced: 0 });
  });
});

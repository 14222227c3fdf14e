import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { confusionTable } from '../../src/evaluation/confusion-table.js';
import { matchByOverlap } from '../../src/evaluation/match-by-overlap.js';
import { overlapSeconds } from '../../src/evaluation/sound-event.js';
import { anyEvents, many } from './events.js';

const pairsOf = (a: ReturnType<typeof many>, b: ReturnType<typeof many>, share?: number) =>
  matchByOverlap(a, b, share === undefined ? {} : { share }).pairs.map((p) => [p.reference, p.estimate]);

describe('matchByOverlap', () => {
  it('asks for half of the shorter, whichever that is, and counts exactly half as enough (by hand)', () => {
    expect(pairsOf(many([1, 1.2]), many([1.1, 2]))).toEqual([[0, 0]]);
    expect(pairsOf(many([1, 1.2]), many([1.101, 2]))).toEqual([]);
    expect(pairsOf(many([1, 3]), many([2.9, 3.1]))).toEqual([[0, 0]]);
    expect(pairsOf(many([1, 3]), many([2.901, 3.101]))).toEqual([]);
  });

  it('gives the largest overlap its pair first, and the other label goes without (by hand)', () => {
    expect(pairsOf(many([0, 0.1], [0.1, 0.3]), many([0.03, 0.25]))).toEqual([[1, 0]]);
    expect(pairsOf(many([0, 0.4]), many([0, 0.1], [0.15, 0.4]))).toEqual([[0, 1]]);
  });

  it('gives the earlier of two equal overlaps its pair', () => {
    expect(pairsOf(many([0, 1]), many([0, 0.5], [0.5, 1]))).toEqual([[0, 0]]);
  });

  it('never pairs events that only touch, even when no share is asked for', () => {
    expect(pairsOf(many([0, 1]), many([1, 2]), 0)).toEqual([]);
    expect(pairsOf(many([0, 1]), many([0.5, 0.5]), 0)).toEqual([]);
  });

  it('finds a long estimate that began before shorter ones', () => {
    expect(pairsOf(many([5, 6]), many([0, 10], [1, 1.1], [2, 2.1]))).toEqual([[0, 0]]);
  });

  it('is one-to-one, loses no event, keeps its own rule, and leaves no pair that could still be made', () => {
    fc.assert(
      fc.property(anyEvents, anyEvents, (a, b) => {
        const { pairs, unmatchedReference, unmatchedEstimate } = matchByOverlap(a, b);
        expect(new Set(pairs.map((pair) => pair.estimate)).size).toBe(pairs.length);
        expect(pairs.length + unmatchedReference.length).toBe(a.length);
        expect(pairs.length + unmatchedEstimate.length).toBe(b.length);
        const fits = (r: number, e: number): boolean => {
          const x = a[r] as (typeof a)[number];
          const y = b[e] as (typeof b)[number];
          const shorter = Math.min(x.endSeconds - x.startSeconds, y.endSeconds - y.startSeconds);
          return overlapSeconds(x, y) > 0 && overlapSeconds(x, y) + 1e-9 >= shorter / 2;
        };
        for (const pair of pairs) expect(fits(pair.reference, pair.estimate)).toBe(true);
        for (const r of unmatchedReference) for (const e of unmatchedEstimate) expect(fits(r, e)).toBe(false);
      }),
    );
  });

  it('pairs every event of a list without overlaps with itself', () => {
    const list = many([0, 1], [1, 2], [2.5, 3]);
    expect(matchByOverlap(list, list).pairs.map((p) => [p.reference, p.estimate])).toEqual([
      [0, 0],
      [1, 1],
      [2, 2],
    ]);
  });
});

describe('confusionTable', () => {
  it('says what each label was taken for, what was missed and what was invented (by hand)', () => {
    const event = (startSeconds: number, endSeconds: number, label: string) => ({
      startSeconds,
      endSeconds,
      label,
    });
    const table = confusionTable([
      {
        reference: [event(0, 1, 'sibilant'), event(2, 3, 'stop'), event(4, 5, 'stop')],
        estimate: [event(0, 1, 'sibilant'), event(2, 3, 'sibilant'), event(8, 9, 'burst')],
      },
      // Another clip at the same times must not meet the first.
      { reference: [event(8, 9, 'stop')], estimate: [] },
    ]);
    expect(table).toEqual({
      rows: ['sibilant', 'stop', 'none'],
      columns: ['sibilant', 'burst', 'none'],
      counts: [
        [1, 0, 0],
        [1, 0, 2],
        [0, 1, 0],
      ],
    });
  });
});

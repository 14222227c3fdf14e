import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestTradeOffs } from '../../src/evaluation/best-trade-offs.js';
import { mergeTouching } from '../../src/evaluation/merge-touching.js';
import { quantile } from '../../src/evaluation/quantile.js';
import { reliability } from '../../src/evaluation/reliability.js';
import { settingsGrid } from '../../src/evaluation/settings-grid.js';
import { secondsInside, unionOfSpans } from '../../src/evaluation/time-spans.js';
import { many } from './events.js';

describe('quantile', () => {
  it('interpolates at (n − 1)·p (definition 7 of Hyndman and Fan 1996, from memory; values by hand)', () => {
    expect(quantile([15, 20, 35, 40, 50], 0.4)).toBeCloseTo(29, 12);
    expect(quantile([3, 1, 2], 0.5)).toBe(2);
    expect([0, 1].map((p) => quantile([3, 1, 2], p))).toEqual([1, 3]);
    expect(quantile([7], 0.9)).toBe(7);
  });

  it('refuses an empty list and a share outside 0 to 1', () => {
    expect(() => quantile([], 0.5)).toThrow(RangeError);
    expect(() => quantile([1], 1.1)).toThrow(RangeError);
    expect(() => quantile([Number.NaN], 0.5)).toThrow(RangeError);
  });
});

describe('mergeTouching', () => {
  const sizes = (...spans: readonly (readonly [number, number])[]) =>
    mergeTouching(many(...spans)).map((group) => group.length);

  it('joins below the gap, and not at it', () => {
    expect(sizes([0, 1], [1.004, 2])).toEqual([2]);
    expect(sizes([0, 1], [1.0051, 2])).toEqual([1, 1]);
  });

  it('measures the gap from the latest end of a group, and sorts first', () => {
    expect(sizes([4, 5], [0, 3], [1, 2], [2.9, 3.5])).toEqual([3, 1]);
  });
});

describe('unionOfSpans and secondsInside', () => {
  it('measure the same as counting grid cells', () => {
    const span = fc.tuple(fc.nat(60), fc.nat(20)).map(([s, n]) => [s, s + n] as const);
    fc.assert(
      fc.property(fc.array(span, { maxLength: 8 }), span, (spans, [from, to]) => {
        let cells = 0;
        for (let t = from; t < to; t++) if (spans.some(([s, e]) => t >= s && t < e)) cells++;
        const union = unionOfSpans(spans.map(([s, e]) => ({ startSeconds: s, endSeconds: e })));
        expect(secondsInside({ startSeconds: from, endSeconds: to }, union)).toBe(cells);
      }),
    );
  });
});

describe('reliability', () => {
  it('compares the share that was right with the mean confidence of each bin (by hand)', () => {
    const decisions = [
      { confidence: 0.1, right: false },
      { confidence: 0.3, right: true },
      { confidence: 0.5, right: true },
      { confidence: 1, right: true },
    ];
    const { bins, expectedError } = reliability(decisions, { bins: 2 });
    expect(bins).toEqual([
      { least: 0, most: 0.5, count: 2, meanConfidence: 0.2, shareRight: 0.5 },
      { least: 0.5, most: 1, count: 2, meanConfidence: 0.75, shareRight: 1 },
    ]);
    // (2·|0.5 − 0.2| + 2·|1 − 0.75|) / 4
    expect(expectedError).toBeCloseTo(0.275, 12);
  });

  it('finds no error in decisions that are right as often as they say', () => {
    const decisions = Array.from({ length: 10 }, (_, i) => ({ confidence: 0.7, right: i < 7 }));
    expect(reliability(decisions).expectedError).toBeCloseTo(0, 12);
  });

  it('has empty bins and no error for no decisions, and refuses a confidence above 1', () => {
    expect(reliability([]).expectedError).toBeNull();
    expect(reliability([]).bins[3]).toMatchObject({ count: 0, shareRight: null });
    expect(() => reliability([{ confidence: 1.5, right: true }])).toThrow(RangeError);
  });
});

describe('settingsGrid', () => {
  it('makes every combination once', () => {
    expect(settingsGrid({ a: [1, 2], b: [3, 4, 5] })).toHaveLength(6);
    expect(settingsGrid({ a: [1, 2], b: [3, 4] })).toContainEqual({ a: 2, b: 3 });
    expect(settingsGrid({})).toEqual([{}]);
  });

  it('refuses an axis without values', () => {
    expect(() => settingsGrid({ a: [] })).toThrow(/settingsGrid: axes\.a must hold at least one value/);
  });
});

describe('bestTradeOffs', () => {
  it('keeps the points that none beats, and every other point is beaten by one of them', () => {
    const point = fc.record({ precision: fc.nat(6), recall: fc.nat(6) });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 15 }), (points) => {
        const front = bestTradeOffs(points);
        for (const p of points)
          expect(front.some((q) => q.precision >= p.precision && q.recall >= p.recall)).toBe(true);
        for (let i = 1; i < front.length; i++) {
          expect(front[i]?.recall).toBeGreaterThan(front[i - 1]?.recall as number);
          expect(front[i]?.precision).toBeLessThan(front[i - 1]?.precision as number);
        }
      }),
    );
  });
});

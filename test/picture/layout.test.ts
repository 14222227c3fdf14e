import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flowItems } from '../../src/picture/flow-items.js';
import { type LabelRequest, placeLabels } from '../../src/picture/place-labels.js';

const requests = fc.array(
  fc.record({
    centre: fc.double({ min: -50, max: 650, noNaN: true }),
    width: fc.double({ min: 1, max: 90, noNaN: true }),
    priority: fc.integer({ min: 0, max: 5 }),
  }),
  { maxLength: 80 },
);
const LIMITS = { left: 0, right: 600, lanes: 3, gap: 4, shift: 16 };

describe('placeLabels', () => {
  it('lets no two labels of a lane come nearer than the gap, and none leave the range', () => {
    fc.assert(
      fc.property(requests, (list) => {
        const { placed } = placeLabels(list, LIMITS);
        for (const a of placed) {
          expect(a.left).toBeGreaterThanOrEqual(LIMITS.left);
          expect(a.right).toBeLessThanOrEqual(LIMITS.right);
          expect(a.lane).toBeLessThan(LIMITS.lanes);
          for (const b of placed)
            if (a.index < b.index && a.lane === b.lane)
              // One part in 10^9: sums of doubles.
              expect(Math.max(a.left - b.right, b.left - a.right)).toBeGreaterThanOrEqual(LIMITS.gap - 1e-9);
        }
      }),
    );
  });

  it('accounts for every request: placed or counted as dropped', () => {
    fc.assert(
      fc.property(requests, (list) => {
        const { placed, droppedCount } = placeLabels(list, LIMITS);
        expect(new Set(placed.map((p) => p.index)).size + droppedCount).toBe(list.length);
      }),
    );
  });

  it('drops a label only where stronger or equal ones stand in every lane within its reach', () => {
    fc.assert(
      fc.property(requests, (list) => {
        const { placed } = placeLabels(list, LIMITS);
        const kept = new Set(placed.map((p) => p.index));
        list.forEach((wish, index) => {
          if (kept.has(index)) return;
          const left = Math.min(
            LIMITS.right - wish.width,
            Math.max(LIMITS.left, wish.centre - wish.width / 2),
          );
          for (let lane = 0; lane < LIMITS.lanes; lane++) {
            const blocker = placed.some(
              (p) =>
                p.lane === lane &&
                p.left < left + wish.width + LIMITS.gap &&
                p.right > left - LIMITS.gap &&
                (list[p.index] as LabelRequest).priority >= wish.priority,
            );
            expect(blocker).toBe(true);
          }
        });
      }),
    );
  });

  it('places a lone label centred, and a label at the edge just inside', () => {
    const { placed } = placeLabels(
      [
        { centre: 300, width: 40, priority: 0 },
        { centre: 2, width: 40, priority: 0 },
      ],
      LIMITS,
    );
    expect(placed.map((p) => [p.lane, p.left])).toEqual([
      [0, 280],
      [0, 0],
    ]);
  });

  it('drops what is wider than the range', () => {
    expect(placeLabels([{ centre: 300, width: 700, priority: 0 }], LIMITS).droppedCount).toBe(1);
  });
});

describe('flowItems', () => {
  it('keeps items apart and inside the row, but for one that is wider than a row', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 400 }), { maxLength: 30 }), (widths) => {
        const places = flowItems(widths, 300, 12);
        places.forEach((place, i) => {
          const width = widths[i] as number;
          if (width <= 300) expect(place.x + width).toBeLessThanOrEqual(300);
          const next = places[i + 1];
          if (next === undefined) return;
          if (next.row === place.row) expect(next.x).toBe(place.x + width + 12);
          else expect([next.x, next.row]).toEqual([0, place.row + 1]);
        });
      }),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRowStore } from '../../src/detection/row-store.js';

/** Adds that many rows, or drops what lies before a place given as a share of the rows so far (over 1: past the end). */
const step = fc.oneof(
  fc.record({ add: fc.integer({ min: 1, max: 150 }) }),
  fc.record({ dropShare: fc.double({ min: -0.2, max: 1.2, noNaN: true }) }),
);

describe('a row store', () => {
  it('holds what an array holds whose front is dropped', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), fc.array(step, { maxLength: 30 }), (width, steps) => {
        const store = createRowStore(width);
        let model: number[][] = [];
        let dropped = 0;
        let next = 1;
        for (const action of steps) {
          if ('add' in action)
            for (let k = 0; k < action.add; k++) {
              const row = Array.from({ length: width }, () => next++);
              const at = store.add();
              // A new row is zeros, whatever was in its place before.
              expect([...store.data.subarray(at, at + width)]).toEqual(row.map(() => 0));
              store.data.set(row, at);
              model.push(row);
            }
          else {
            const end = dropped + model.length;
            const row = Math.floor(end * action.dropShare);
            store.dropBefore(row);
            const first = Math.max(dropped, Math.min(row, end));
            model = model.slice(first - dropped);
            dropped = first;
          }
          expect(store.first).toBe(dropped);
          expect(store.end).toBe(dropped + model.length);
          const held = model.map((_, i) => {
            const at = store.at(dropped + i);
            return [...store.data.subarray(at, at + width)];
          });
          expect(held).toEqual(model);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('gives held rows as one run of numbers, so that a part of them can be handed on', () => {
    const store = createRowStore(2);
    for (let row = 0; row < 1000; row++) {
      const at = store.add();
      store.data[at] = row;
      store.dropBefore(row - 70);
      const first = store.at(store.first);
      const rows = store.data.subarray(first, store.at(store.end));
      expect(rows.length).toBe(2 * (store.end - store.first));
      expect([...rows].filter((_, i) => i % 2 === 0)).toEqual(
        Array.from({ length: store.end - store.first }, (_, i) => store.first + i),
      );
    }
  });

  it('needs room for at most 1.43 times the most rows that it ever held, however many pass through', () => {
    // Room grows by a quarter when the held rows fill over 7/8 of it: then it is 10/7 of what is held, and a row for rounding up.
    for (const held of [1, 31, 33, 64, 65, 200]) {
      const store = createRowStore(3);
      for (let row = 0; row < 20_000; row++) {
        store.add();
        store.dropBefore(row + 1 - held);
      }
      expect(store.end).toBe(20_000);
      expect(store.first).toBe(20_000 - held);
      expect(store.data.length / 3).toBeLessThanOrEqual(Math.max(64, (10 / 7) * (held + 1) + 1));
    }
  });
});

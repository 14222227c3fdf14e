import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { maximumMatching } from '../../src/evaluation/maximum-matching.js';

/** Size of the largest matching by trying everything: the definition, fit for a handful of nodes. */
function bruteForce(neighbours: readonly (readonly number[])[], left: number, taken: number): number {
  if (left === neighbours.length) return 0;
  let best = bruteForce(neighbours, left + 1, taken);
  for (const right of neighbours[left] ?? [])
    if ((taken & (1 << right)) === 0)
      best = Math.max(best, 1 + bruteForce(neighbours, left + 1, taken | (1 << right)));
  return best;
}

const graphs = fc.array(fc.uniqueArray(fc.nat(5), { maxLength: 4 }), { maxLength: 6 });

describe('maximumMatching', () => {
  it('is as large as the largest found by trying everything, one-to-one and along edges only', () => {
    fc.assert(
      fc.property(graphs, (neighbours) => {
        const rightOf = maximumMatching(neighbours, 6);
        const matched = rightOf.filter((right) => right >= 0);
        expect(matched.length).toBe(bruteForce(neighbours, 0, 0));
        expect(new Set(matched).size).toBe(matched.length);
        rightOf.forEach((right, left) => {
          if (right >= 0) expect(neighbours[left]).toContain(right);
        });
      }),
      { numRuns: 500 },
    );
  });

  it('undoes a whole chain of first choices for the last node', () => {
    // Node i may take i or i + 1, the last one only 0: everybody has to move up by one.
    const count = 20_000;
    const neighbours = Array.from({ length: count }, (_, i) => [i, i + 1]);
    const rightOf = maximumMatching([...neighbours, [0]], count + 1);
    expect(rightOf.filter((right) => right < 0)).toEqual([]);
    expect(rightOf.at(-1)).toBe(0);
  });

  it('refuses a node that does not exist', () => {
    expect(() => maximumMatching([[2]], 2)).toThrow(RangeError);
  });
});

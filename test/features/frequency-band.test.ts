import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binFromEdge } from '../../src/features/frequency-band.js';

describe('the edge rule lowHz ≤ k·binHz < highHz', () => {
  it('holds for edges on a bin and one rounding step beside it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1000, noNaN: true }),
        fc.nat(600),
        fc.constantFrom(1 - 2 ** -52, 1, 1 + 2 ** -52),
        (binHz, bin, step) => {
          const edge = bin * binHz * step;
          let expected = 0;
          while (expected < 513 && expected * binHz < edge) expected++;
          expect(binFromEdge(edge, binHz, 513)).toBe(expected);
        },
      ),
      { numRuns: 20000 },
    );
  });

  it('takes all bins for an edge at infinity', () => {
    expect(binFromEdge(Number.POSITIVE_INFINITY, 10, 513)).toBe(513);
    expect(binFromEdge(0, 10, 513)).toBe(0);
  });
});

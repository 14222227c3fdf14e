import fc from 'fast-check';
import { quantileSeq } from 'mathjs';
import { expect, test } from 'vitest';
import { quantile } from '../../src/evaluation/quantile.js';
import { quantileOf, rising } from '../../src/signal/quantile-of.js';

test('quantiles are those of mathjs, of any numbers in any order', () => {
  const values = fc.array(fc.double({ min: -200, max: 200, noNaN: true }), { minLength: 1, maxLength: 60 });
  fc.assert(
    fc.property(values, fc.nat(1000), (numbers, perMille) => {
      // mathjs fails on shares of 1e-17 and the like.
      const p = perMille / 1000;
      const theirs = quantileSeq([...numbers], p) as number;
      // Positions up to 60 and values up to 200 are rounded: 60 · 1e-16 of a step of 400, and some 1e-16 of 200 more.
      expect(Math.abs(quantile(numbers, p) - theirs)).toBeLessThan(1e-11);
      expect(Math.abs(quantileOf(rising(numbers), p) - theirs)).toBeLessThan(1e-11);
    }),
  );
});

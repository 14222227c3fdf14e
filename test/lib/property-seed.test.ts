import fc from 'fast-check';
import { expect, it } from 'vitest';

const { PROPERTY_SEED } = process.env;

it('properties draw the cases of one seed, PROPERTY_SEED or 1', () => {
  const { seed } = fc.readConfigureGlobal();
  expect(seed).toBe(Number(PROPERTY_SEED ?? 1));
  const drawn = (): readonly number[] => {
    const numbers: number[] = [];
    fc.assert(
      fc.property(fc.nat(), (n) => {
        numbers.push(n);
      }),
    );
    return numbers;
  };
  expect(drawn()).toEqual(drawn());
});

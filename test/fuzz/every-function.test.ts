import { expect, it } from 'vitest';
import { publicFunctions } from '../lib/public-functions.js';
import { PROPERTIES } from './properties/index.js';

/** Functions that no property tries, each with the reason. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  simdEngine: 'takes nothing; test/simd holds what it makes against the same in JavaScript',
};

it('every public function has a property or a reason to have none', async () => {
  const names = new Set((await publicFunctions()).keys());
  // The walk itself must find them: 217 when this was written.
  expect(names.size).toBeGreaterThan(200);
  expect([...names].filter((name) => !(name in PROPERTIES) && !(name in LEFT_OUT))).toEqual([]);
});

it('no property is left of a function that is gone', async () => {
  const names = new Set((await publicFunctions()).keys());
  expect([...Object.keys(PROPERTIES), ...Object.keys(LEFT_OUT)].filter((name) => !names.has(name))).toEqual(
    [],
  );
});

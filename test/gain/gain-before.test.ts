import { expect, it } from 'vitest';
import { gainBefore } from '../../src/gain/gain-before.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { Region, RegionReason } from '../../src/regions/region.js';

const empty = createRegionList({ sampleRateHz: 48_000, lengthSamples: 100 });
const cutWith = (reason: RegionReason): Region =>
  insertRegion(empty, { startSample: 0, endSample: 9, gainDb: -9, reason }).regions[0]!;

it('is what a rule found, as long as its gain stands', () => {
  const numbers = { baseGainDb: -3, gainDb: -9 };
  expect(gainBefore('rule', cutWith({ rule: 'rule', numbers }))).toBe(-3);
  // Another rule, a gain that was changed since, and a reason that keeps none: the gain counts as it is.
  expect(gainBefore('rule', cutWith({ rule: 'other', numbers }))).toBe(-9);
  expect(gainBefore('rule', cutWith({ rule: 'rule', numbers: { ...numbers, gainDb: -8 } }))).toBe(-9);
  expect(gainBefore('rule', cutWith({ rule: 'rule', numbers: { gainDb: -9 } }))).toBe(-9);
});

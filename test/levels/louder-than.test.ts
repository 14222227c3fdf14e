import { expect, test } from 'vitest';
import { regionsLouderThan } from '../../src/levels/louder-than.js';
import type { LevelTable, RegionLevel } from '../../src/levels/region-level.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';

const list = insertRegions(
  createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 }),
  [0, 100, 200, 300].map((startSample) => ({ startSample, endSample: startSample + 50 })),
);
// Only sibilanceDb is looked at.
const level = (id: number, sibilanceDb: number | null) => [id, { id, sibilanceDb } as RegionLevel] as const;
const levels: LevelTable = {
  sampleRateHz: 48000,
  byId: new Map([level(3, -2), level(1, -8), level(2, null), level(9, 20)]),
  voiceDbfs: -20,
};

test('the regions above a limit come in order of time; those without a sibilance are not among them', () => {
  const ids = (limit: number): number[] => regionsLouderThan(list, levels, limit).map(({ id }) => id);
  expect(ids(-100)).toEqual([1, 3]);
  expect(ids(-8)).toEqual([3]);
  expect(ids(-8.01)).toEqual([1, 3]);
  expect(ids(0)).toEqual([]);
});

test('a limit that is no finite number is refused', () => {
  for (const limit of [Number.NaN, Number.NEGATIVE_INFINITY])
    expect(() => regionsLouderThan(list, levels, limit)).toThrow(RangeError);
  expect(() => regionsLouderThan(list, levels, '3' as unknown as number)).toThrow(TypeError);
});

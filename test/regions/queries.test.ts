import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { nextRegion, previousRegion } from '../../src/regions/neighbour-regions.js';
import type { RegionKind } from '../../src/regions/region.js';
import { regionAt } from '../../src/regions/region-at.js';
import { regionById } from '../../src/regions/region-by-id.js';
import { regionsBetween } from '../../src/regions/regions-between.js';
import { regionsOfKind } from '../../src/regions/regions-of-kind.js';
import { totalSamples } from '../../src/regions/total-samples.js';
import { regionLists } from './arbitraries.js';

test('every query by position finds what a walk through all regions finds', () => {
  fc.assert(
    fc.property(
      regionLists,
      fc.nat(),
      fc.integer({ min: -3, max: 3 }),
      fc.nat({ max: 9000 }),
      (list, pick, off, n) => {
        // Positions at and around the edges of regions, where searches go wrong.
        const edges = list.regions.flatMap((r) => [r.startSample, r.endSample]);
        const at = (edges[pick % Math.max(1, edges.length)] ?? 0) + off;
        const { regions } = list;
        expect(regionAt(list, at)).toBe(regions.find((r) => r.startSample <= at && at < r.endSample));
        expect(nextRegion(list, at)).toBe(regions.find((r) => r.startSample > at));
        expect(previousRegion(list, at)).toBe(regions.filter((r) => r.startSample < at).pop());
        const between = regions.filter((r) => n > 0 && r.startSample < at + n && r.endSample > at);
        expect(regionsBetween(list, at, at + n)).toEqual(between);
      },
    ),
    { numRuns: 1000 },
  );
});

test('regions are found by id and by kind, and their samples counted', () => {
  const list = insertRegions(createRegionList({ sampleRateHz: 8000, lengthSamples: 100 }), [
    { startSample: 50, endSample: 60, kind: 'breath' },
    { startSample: 0, endSample: 7, kind: 'burst' },
    { startSample: 7, endSample: 9, kind: 'breath' },
  ]);
  expect(regionById(list, 2)?.kind).toBe('burst');
  expect(regionById(list, 4)).toBeUndefined();
  expect(regionsOfKind(list, 'breath').map((r) => r.id)).toEqual([3, 1]);
  expect(regionsOfKind(list, ['burst', 'breath']).map((r) => r.id)).toEqual([2, 3, 1]);
  expect(regionsOfKind(list, [])).toEqual([]);
  expect(() => regionsOfKind(list, 'vowel' as RegionKind)).toThrow(RangeError);
  expect(totalSamples(list.regions)).toBe(19);
  expect(totalSamples(regionsOfKind(list, 'breath'))).toBe(12);
  expect(totalSamples([])).toBe(0);
  expect(() => regionAt(list, Number.NaN)).toThrow(RangeError);
});

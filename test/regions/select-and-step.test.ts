import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { nextRegion, previousRegion } from '../../src/regions/neighbour-regions.js';
import { REGION_KINDS, type Region, type RegionList } from '../../src/regions/region.js';
import type { RegionCriteria } from '../../src/regions/region-criteria.js';
import { selectRegions } from '../../src/regions/select-regions.js';
import { setKind } from '../../src/regions/set-flags.js';
import { nextUncertain, previousUncertain } from '../../src/regions/uncertain-regions.js';
import { regionLists } from './arbitraries.js';

const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 }), [
  { startSample: 0, endSample: 100, kind: 'sibilant', confidence: 0.95, label: 'see' },
  { startSample: 100, endSample: 200, kind: 'breath', confidence: 0.6, locked: true },
  { startSample: 300, endSample: 400, kind: 'sibilant', confidence: 0.5, bypassed: true },
  { startSample: 500, endSample: 600, kind: 'burst', confidence: 0.9 },
]);

test('each condition by itself selects what it says', () => {
  const rows: [RegionCriteria, number[]][] = [
    [{}, [1, 2, 3, 4]],
    [{ kinds: ['sibilant'] }, [1, 3]],
    [{ kinds: [] }, []],
    [{ ids: [4, 1, 99] }, [1, 4]],
    [{ minConfidence: 0.7 }, [1, 4]],
    [{ belowConfidence: 0.7 }, [2, 3]],
    [{ label: 'see' }, [1]],
    [{ label: '' }, [2, 3, 4]],
    [{ locked: true }, [2]],
    [{ locked: false }, [1, 3, 4]],
    [{ bypassed: true }, [3]],
    [{ startSample: 100 }, [2, 3, 4]],
    [{ startSample: 99 }, [1, 2, 3, 4]],
    [{ endSample: 300 }, [1, 2]],
    [{ endSample: 301 }, [1, 2, 3]],
    [{ startSample: 350, endSample: 350 }, []],
    [{ startSample: 600, endSample: 0 }, []],
    [{ where: ({ startSample, endSample }) => endSample - startSample > 99 && startSample > 200 }, [3, 4]],
    [{ kinds: ['sibilant'], belowConfidence: 0.7, startSample: 0 }, [3]],
  ];
  for (const [criteria, ids] of rows)
    expect(selectRegions(list, criteria), JSON.stringify(criteria)).toEqual(ids);
});

test('stepping through a choice visits exactly what selecting finds, in both directions', () => {
  const criteria: fc.Arbitrary<RegionCriteria> = fc.record(
    {
      kinds: fc.subarray([...REGION_KINDS], { minLength: 3 }),
      minConfidence: fc.double({ min: 0, max: 0.4, noNaN: true }),
      locked: fc.boolean(),
    },
    { requiredKeys: [] },
  );
  fc.assert(
    fc.property(regionLists, criteria, (drawn: RegionList, choice) => {
      const ids = selectRegions(drawn, choice);
      const walk = (from: number, step: (at: number) => Region | undefined): number[] => {
        const seen: number[] = [];
        for (let region = step(from); region !== undefined; region = step(region.startSample))
          seen.push(region.id);
        return seen;
      };
      expect(walk(-1, (at) => nextRegion(drawn, at, choice))).toEqual(ids);
      const back = walk(drawn.lengthSamples, (at) => previousRegion(drawn, at, choice));
      expect(back.reverse()).toEqual(ids);
    }),
  );
});

test('the uncertain ones are those below 0.9, or below a limit of one’s own, until their kind is set', () => {
  expect(nextUncertain(list, -1)?.id).toBe(2);
  expect(nextUncertain(list, 100)?.id).toBe(3);
  expect(nextUncertain(list, 300)).toBeUndefined();
  expect(nextUncertain(list, 300, { belowConfidence: 0.91 })?.id).toBe(4);
  expect(previousUncertain(list, 1000)?.id).toBe(3);
  expect(previousUncertain(list, 1000, { locked: true })?.id).toBe(2);
  expect(nextUncertain(setKind(list, 3, 'sibilant'), 100)).toBeUndefined();
});

test('conditions out of range or of the wrong kind are refused, and the message names function and condition', () => {
  const wrong: [unknown, RegExp, typeof RangeError][] = [
    [{ kinds: ['vowel'] }, /kinds must be one of/, RangeError],
    [{ kinds: 'sibilant' }, /kinds must be an array/, TypeError],
    [{ ids: 3 }, /ids must be an array/, TypeError],
    [{ ids: [0] }, /ids must lie within/, RangeError],
    [{ minConfidence: 1.1 }, /minConfidence must lie/, RangeError],
    [{ belowConfidence: Number.NaN }, /belowConfidence must be finite/, RangeError],
    [{ startSample: Number.NaN }, /startSample must be finite/, RangeError],
    [{ endSample: '7' }, /endSample must be a number/, TypeError],
    [{ label: 7 }, /label must be a string/, TypeError],
    [{ locked: 'no' }, /locked must be a boolean/, TypeError],
    [{ bypassed: 0 }, /bypassed must be a boolean/, TypeError],
    [{ where: 'x' }, /where must be a function/, TypeError],
    [null, /criteria must be an object/, TypeError],
  ];
  for (const [criteria, message, kind] of wrong)
    for (const call of [
      () => selectRegions(list, criteria as RegionCriteria),
      () => nextRegion(list, 0, criteria as RegionCriteria),
      () => previousRegion(list, 0, criteria as RegionCriteria),
    ]) {
      expect(call).toThrow(kind);
      expect(call).toThrow(message);
      expect(call).toThrow(/^(selectRegions|nextRegion|previousRegion): .*; received /);
    }
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { totalSamples } from '../../src/regions/total-samples.js';
import { edits, LENGTH, starts } from './edit-arbitraries.js';

// Plain restatement of the rules, independent of src/regions/region-rules.ts.
function expectSound(list: RegionList): void {
  const ids = new Set<number>();
  const owner = new Array<number>(list.lengthSamples).fill(0);
  let before = -1;
  for (const r of list.regions) {
    expect(Number.isInteger(r.id) && r.id >= 1 && r.id < list.nextId && !ids.has(r.id)).toBe(true);
    ids.add(r.id);
    expect(r.startSample).toBeGreaterThan(before);
    before = r.startSample;
    expect(r.startSample).toBeGreaterThanOrEqual(0);
    expect(r.startSample).toBeLessThan(r.endSample);
    expect(r.endSample).toBeLessThanOrEqual(list.lengthSamples);
    for (let i = r.startSample; i < r.endSample; i++) {
      // One comparison a sample; an expect for each would take most of the time.
      if (owner[i] !== 0) expect.fail(`sample ${i} belongs to two regions`);
      owner[i] = r.id;
    }
    expect(r.fadeInSamples).toBeGreaterThanOrEqual(0);
    expect(r.fadeOutSamples).toBeGreaterThanOrEqual(0);
    expect(r.fadeInSamples + r.fadeOutSamples).toBeLessThanOrEqual(r.endSample - r.startSample);
    expect(Number.isInteger(r.fadeInSamples) && Number.isInteger(r.fadeOutSamples)).toBe(true);
    expect(r.gainDb >= -120 && r.gainDb <= 24).toBe(true);
    expect(r.confidence >= 0 && r.confidence <= 1).toBe(true);
    if (r.onsetSample !== null) expect(r.onsetSample >= 0 && r.onsetSample <= list.lengthSamples).toBe(true);
    if (r.offsetSample !== null)
      expect(r.offsetSample >= 0 && r.offsetSample <= list.lengthSamples).toBe(true);
    if (r.onsetSample !== null && r.offsetSample !== null) expect(r.onsetSample).toBeLessThan(r.offsetSample);
    expect(Object.isFrozen(r) && Object.isFrozen(r.reason) && Object.isFrozen(r.reason.numbers)).toBe(true);
  }
  expect(Object.isFrozen(list) && Object.isFrozen(list.regions)).toBe(true);
  expect(totalSamples(list.regions)).toBe(owner.filter((id) => id !== 0).length);
}

test('any sequence of edits keeps every rule, never changes an earlier list and never gives an id twice', () => {
  const tried = { done: 0, refused: 0 };
  fc.assert(
    fc.property(starts, fc.array(edits, { minLength: 1, maxLength: 40, size: 'max' }), (start, sequence) => {
      let list = start;
      for (const edit of sequence) {
        const copy = structuredClone(list);
        const locked = list.regions.filter((region) => region.locked);
        let next: RegionList;
        try {
          next = edit(list);
          tried.done++;
        } catch (error) {
          // Wrong values are the only thing the edits above get wrong.
          expect(error).toBeInstanceOf(RangeError);
          expect((error as Error).message).toMatch(/^[a-z]\w+: .+; received /);
          tried.refused++;
          next = list;
        }
        expect(list).toEqual(copy);
        expectSound(next);
        checkRegionList(next);
        expect(next.nextId).toBeGreaterThanOrEqual(list.nextId);
        const known = new Set(list.regions.map((region) => region.id));
        for (const region of next.regions)
          if (!known.has(region.id)) expect(region.id).toBeGreaterThanOrEqual(list.nextId);
        // A locked region is still there, the same but for its lock.
        for (const before of locked) {
          const after = next.regions.find((region) => region.id === before.id);
          expect({ ...after, locked: true }).toEqual(before);
        }
        list = next;
      }
    }),
    { numRuns: 250 },
  );
  // A property whose edits are nearly all refused would say little; about a fifth are done, so a tenth is no matter of luck.
  expect(tried.done).toBeGreaterThan(tried.refused / 9);
});

test('checkRegionList accepts exactly what the plain restatement accepts after one field is disturbed', () => {
  const base = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: LENGTH }), [
    {
      startSample: 10,
      endSample: 30,
      fadeInSamples: 5,
      fadeOutSamples: 5,
      onsetSample: 12,
      offsetSample: 28,
    },
    { startSample: 30, endSample: 50, fadeInSamples: 20 },
    { startSample: 60, endSample: LENGTH },
  ]);
  const fields = [
    'id',
    'startSample',
    'endSample',
    'fadeInSamples',
    'fadeOutSamples',
    'gainDb',
    'confidence',
    'onsetSample',
    'offsetSample',
  ] as const;
  const value = fc.oneof(
    fc.integer({ min: -130, max: LENGTH + 5 }),
    fc.integer({ min: 0, max: 60 }),
    fc.constantFrom(0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53, -0.5),
  );
  let accepted = 0;
  let refused = 0;
  fc.assert(
    fc.property(fc.nat({ max: 2 }), fc.constantFrom(...fields), value, (index, field, v) => {
      const regions = base.regions.map((r, i) => Object.freeze(i === index ? { ...r, [field]: v } : r));
      const list = Object.freeze({ ...base, regions: Object.freeze(regions) });
      const integral = field === 'gainDb' || field === 'confidence' || Number.isSafeInteger(v);
      let sound = integral;
      try {
        if (integral) expectSound(list);
      } catch {
        sound = false;
      }
      if (sound) {
        accepted++;
        checkRegionList(list);
      } else {
        refused++;
        expect(() => checkRegionList(list)).toThrow(RangeError);
      }
    }),
    { numRuns: 2000 },
  );
  expect(Math.min(accepted, refused)).toBeGreaterThan(200);
});

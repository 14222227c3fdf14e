import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_FIXED_CUT_OPTIONS, fixedCut } from '../../src/gain/fixed-cut.js';
import { DEFAULT_STEP_GAIN_OPTIONS, stepGain } from '../../src/gain/step-gain.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import type { RegionKind, RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from './lists.js';

const at = (i: number) => ({ startSample: i * 10, endSample: i * 10 + 10, gainDb: 0 });
const gains = (list: RegionList) => list.regions.map((r) => r.gainDb);

const mixed = listOf(
  100,
  region({ ...at(0) }),
  region({ ...at(1), kind: 'breath' }),
  region({ ...at(2), locked: true }),
  region({ ...at(3), bypassed: true }),
  region({ ...at(4), confidence: 0.3 }),
);

describe('fixedCut', () => {
  it('cuts every sibilant by 6 dB unless told otherwise, and passes over locked and bypassed regions', () => {
    expect(gains(fixedCut(mixed))).toEqual([-6, 0, 0, 0, -6]);
  });

  it('takes the kinds, the ids and the confidence that it is told', () => {
    expect(gains(fixedCut(mixed, { kinds: ['breath', 'sibilant'], gainDb: -9 }))).toEqual([-9, -9, 0, 0, -9]);
    expect(gains(fixedCut(mixed, { minConfidence: 0.5 }))).toEqual([-6, 0, 0, 0, 0]);
    expect(gains(fixedCut(mixed, { kinds: ['sibilant'], ids: [2, 5] }))).toEqual([0, 0, 0, 0, -6]);
    expect(fixedCut(mixed, { kinds: [] })).toBe(mixed);
  });

  it('takes any kind where ids are named and kinds are not', () => {
    expect(gains(fixedCut(mixed, { ids: [2] }))).toEqual([0, -6, 0, 0, 0]);
  });

  it('says why a region has its gain, and leaves the others as the same objects', () => {
    const cut = fixedCut(mixed, { gainDb: -3 });
    expect(cut.regions[0]?.reason).toEqual({ rule: 'fixedCut', numbers: { gainDb: -3 } });
    expect(cut.regions[1]).toBe(mixed.regions[1]);
    expect(Object.isFrozen(cut) && Object.isFrozen(cut.regions) && Object.isFrozen(cut.regions[0])).toBe(
      true,
    );
    expect(gains(mixed)).toEqual([0, 0, 0, 0, 0]);
  });

  it('changes nothing more the second time: the same list comes back', () => {
    fc.assert(
      fc.property(anyList(), fc.double({ min: -120, max: 0, noNaN: true }), (list, gainDb) => {
        const once = fixedCut(list, { gainDb });
        checkRegionList(once);
        expect(fixedCut(once, { gainDb })).toBe(once);
      }),
    );
  });

  it('stores no negative zero, which JSON would lose', () => {
    expect(Object.is(fixedCut(mixed, { gainDb: -0 }).regions[0]?.gainDb, 0)).toBe(true);
  });

  it('refuses a boost, a cut below the mute, unknown kinds, bad ids and confidences', () => {
    expect(() => fixedCut(mixed, { gainDb: 6 })).toThrow(
      /fixedCut: gainDb must lie within \[-120, 0\]; received 6/,
    );
    expect(() => fixedCut(mixed, { gainDb: -121 })).toThrow(RangeError);
    expect(() => fixedCut(mixed, { gainDb: Number.NaN })).toThrow(RangeError);
    expect(() => fixedCut(mixed, { kinds: ['growl' as RegionKind] })).toThrow(/kinds/);
    expect(() => fixedCut(mixed, { kinds: 'sibilant' as unknown as RegionKind[] })).toThrow(TypeError);
    expect(() => fixedCut(mixed, { ids: [1.5] })).toThrow(/ids/);
    expect(() => fixedCut(mixed, { ids: 1 as unknown as number[] })).toThrow(TypeError);
    expect(() => fixedCut(mixed, { minConfidence: 2 })).toThrow(/minConfidence/);
  });

  it('has frozen defaults', () => {
    expect(Object.isFrozen(DEFAULT_FIXED_CUT_OPTIONS)).toBe(true);
    expect(Object.isFrozen(DEFAULT_STEP_GAIN_OPTIONS)).toBe(true);
  });
});

describe('stepGain', () => {
  it('adds up: two steps of -6 dB are -12 dB', () => {
    expect(gains(stepGain(stepGain(mixed)))).toEqual([-12, 0, 0, 0, -12]);
    expect(gains(stepGain(stepGain(mixed, { stepDb: -1 }), { stepDb: -2 }))).toEqual([-3, 0, 0, 0, -3]);
  });

  it('comes back to 0 dB and not above, unless a boost is asked for', () => {
    const cut = fixedCut(mixed);
    expect(gains(stepGain(stepGain(cut, { stepDb: 4 }), { stepDb: 4 }))).toEqual([0, 0, 0, 0, 0]);
    expect(gains(stepGain(cut, { stepDb: 8, mostGainDb: 24 }))).toEqual([2, 0, 0, 0, 2]);
    expect(gains(stepGain(cut, { stepDb: 100, mostGainDb: 24 }))).toEqual([24, 0, 0, 0, 24]);
  });

  it('takes a boost down by one step, not to the limit', () => {
    const boosted = listOf(10, region({ ...at(0), gainDb: 5 }));
    expect(gains(stepGain(boosted, { stepDb: -1 }))).toEqual([4]);
    expect(stepGain(boosted, { stepDb: 1, kinds: ['breath'] })).toBe(boosted);
    expect(gains(stepGain(boosted, { stepDb: 1 }))).toEqual([5]);
  });

  it('ends at the mute', () => {
    expect(gains(stepGain(mixed, { stepDb: -144 }))).toEqual([-120, 0, 0, 0, -120]);
  });

  it('says step and gain in its reason', () => {
    const reason = stepGain(fixedCut(mixed), { stepDb: -1 }).regions[0]?.reason;
    expect(reason).toEqual({ rule: 'stepGain', numbers: { stepDb: -1, gainDb: -7 } });
  });

  it('refuses steps that are no number or too wide', () => {
    expect(() => stepGain(mixed, { stepDb: 200 })).toThrow(RangeError);
    expect(() => stepGain(mixed, { stepDb: '6' as unknown as number })).toThrow(TypeError);
    expect(() => stepGain(mixed, { mostGainDb: 25 })).toThrow(/mostGainDb/);
  });
});

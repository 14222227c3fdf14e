import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { DEFAULT_KIND_CUTS, defaultCuts, type TakePart } from '../../src/gain/kind-cuts.js';
import { stepGain } from '../../src/gain/step-gain.js';
import { REGION_KINDS, type RegionKind, type RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from './lists.js';

const gains = ({ regions }: RegionList) => regions.map(({ gainDb }) => gainDb);
const each = listOf(
  1000,
  ...REGION_KINDS.map((kind, i) =>
    region({ kind, gainDb: 0, startSample: i * 100, endSample: i * 100 + 50 }),
  ),
);

describe('defaultCuts', () => {
  it('cuts sibilants by 6 dB and leaves the rest until asked for', () => {
    expect(gains(defaultCuts(each))).toEqual([-6, 0, 0, 0, 0, 0, 0, 0]);
  });

  it('gives each kind its usual gain (common practice, no source)', () => {
    const lead = gains(defaultCuts(each, { kinds: REGION_KINDS }));
    const backing = gains(defaultCuts(each, { kinds: REGION_KINDS, part: 'backing' }));
    const of = (values: number[], kind: RegionKind) => values[REGION_KINDS.indexOf(kind)]!;
    expect(of(lead, 'sibilant')).toBe(-6);
    expect([of(lead, 'fricative'), of(lead, 'burst')]).toEqual([-3, -3]);
    // Lead breaths are lowered by 6 to 12 dB, backing ones are nearly out, and none is muted.
    expect(of(lead, 'breath')).toBeGreaterThanOrEqual(-12);
    expect(of(lead, 'breath')).toBeLessThanOrEqual(-6);
    expect(of(backing, 'breath')).toBeLessThanOrEqual(-18);
    expect(of(backing, 'breath')).toBeGreaterThan(-60);
    expect(of(lead, 'custom')).toBe(0);
  });

  it('takes gains that differ', () => {
    expect(gains(defaultCuts(each, { gainsDb: { sibilant: -8 } }))[0]).toBe(-8);
    const breath = defaultCuts(each, { kinds: ['breath'], gainsDb: { breath: -12 } });
    expect(breath.regions[3]).toMatchObject({
      gainDb: -12,
      reason: { rule: 'defaultCuts', numbers: { gainDb: -12 } },
    });
  });

  it('changes nothing more the second time, and neither locked nor bypassed regions', () => {
    fc.assert(
      fc.property(anyList(), fc.constantFrom<TakePart>('lead', 'backing'), (list, part) => {
        const some = { ...list, regions: list.regions.map((r, i) => ({ ...r, locked: i % 3 === 0 })) };
        const once = defaultCuts(some, { part, kinds: REGION_KINDS });
        expect(defaultCuts(once, { part, kinds: REGION_KINDS })).toBe(once);
        once.regions.forEach((r, i) => {
          if (r.locked || r.bypassed) expect(r).toBe(some.regions[i]);
          else expect(r.gainDb).toBe(DEFAULT_KIND_CUTS[part][r.kind]);
        });
      }),
    );
  });

  it('refuses unknown parts and kinds, and boosts', () => {
    expect(() => defaultCuts(each, { part: 'solo' as TakePart })).toThrow(
      /defaultCuts: part must be one of lead, backing/,
    );
    expect(() => defaultCuts(each, { gainsDb: { breath: 3 } })).toThrow(/gainsDb.breath/);
    expect(() => defaultCuts(each, { gainsDb: { growl: -3 } as never })).toThrow(/gainsDb must be one of/);
    expect(() => defaultCuts(each, { gainsDb: null as never })).toThrow(TypeError);
    expect(Object.isFrozen(DEFAULT_KIND_CUTS) && Object.isFrozen(DEFAULT_KIND_CUTS.lead)).toBe(true);
  });
});

describe('a choice by time', () => {
  const three = listOf(
    400,
    ...[0, 100, 200].map((startSample) => region({ gainDb: 0, startSample, endSample: startSample + 50 })),
  );

  it('takes the regions that share a sample with the range, for every decision', () => {
    expect(gains(fixedCut(three, { between: { startSample: 49, endSample: 101 } }))).toEqual([-6, -6, 0]);
    expect(gains(fixedCut(three, { between: { startSample: 50, endSample: 100 } }))).toEqual([0, 0, 0]);
    expect(gains(stepGain(three, { stepDb: -1, between: { startSample: 249, endSample: 400 } }))).toEqual([
      0, 0, -1,
    ]);
    expect(gains(fixedCut(three, { between: { startSample: 20, endSample: 20 } }))).toEqual([0, 0, 0]);
  });

  it('goes together with kinds and ids', () => {
    const range = { startSample: 0, endSample: 150 };
    expect(gains(fixedCut(three, { between: range, ids: [2, 3] }))).toEqual([0, -6, 0]);
    expect(gains(fixedCut(three, { between: range, kinds: ['breath'] }))).toEqual([0, 0, 0]);
  });

  it('refuses a range that is reversed or no range', () => {
    expect(() => fixedCut(three, { between: { startSample: 9, endSample: 3 } })).toThrow(/between.endSample/);
    expect(() => fixedCut(three, { between: { startSample: -1, endSample: 3 } })).toThrow(
      /between.startSample/,
    );
    expect(() => fixedCut(three, { between: { startSample: 0.5, endSample: 3 } })).toThrow(RangeError);
  });
});

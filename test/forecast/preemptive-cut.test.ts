import { beforeAll, describe, expect, test } from 'vitest';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { Chain } from '../../src/forecast/chain.js';
import { compressionGainAt } from '../../src/forecast/compression-curve.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { forecastRise } from '../../src/forecast/forecast-rise.js';
import { preemptiveCut } from '../../src/forecast/preemptive-cut.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import { floorsFor } from '../../src/levels/over-cut-floors.js';
import type { RegionList } from '../../src/regions/region.js';
import { setBypassed, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { type DemoLead, demoLead } from '../lib/demo-lead.js';
import { COMPRESSOR, dB, ess, gap, RATE, takeOf, vowel } from './material.js';

const bright: Chain = {
  stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 5 }] }],
};
const free = { guard: false, maxCutDb: 40 };

describe('the cut for a steady s', () => {
  // A linear chain lifts by a fixed amount, the difference of |H| (Audio EQ Cookbook): the cut is that. 0.25 dB: the stated tolerance,
  // which the first secant step meets with room to spare.
  test('before a linear chain is its lift', () => {
    const [low, high] = magnitudeResponseDb(
      filterSections([{ kind: 'highShelf', frequencyHz: 3000, gainDb: 5 }], { sampleRateHz: RATE }),
      [500, 5701],
      { sampleRateHz: RATE },
    );
    const { samples, list } = takeOf([vowel(0.3), gap(), ess(0.2), gap(), vowel(0.3)]);
    const cut = preemptiveCut(samples, list, bright, free);
    expect(Math.abs(cut.list.regions[0]!.gainDb + (high! - low!))).toBeLessThan(0.25);
    expect(cut.unreached).toEqual([]);
    expect(cut.passes).toBe(2);
  });

  // Static curve with ratio 3 for an s above the threshold: 1 dB less out takes 3 dB less in. Behind the chain the s stands at
  // T + (x − T)/3, so for a target t over the voice's output v the level in is T + 3·(v + t − T) (Giannoulis, Massberg and Reiss
  // 2012, solved by hand). 0.15 dB of forecast (see forecast-rise.test.ts) and 0.25 of tolerance, times 3.
  test('before a compressor takes the ratio into account', () => {
    const { samples, list } = takeOf([vowel(0.5), gap(), ess(0.9), gap(), vowel(0.5)]);
    const voiceOut = dB(0.5) + compressionGainAt(dB(0.5), COMPRESSOR);
    for (const targetDb of [0.5, -1, -2]) {
      const cut = preemptiveCut(samples, list, { stages: [COMPRESSOR] }, { ...free, targetDb });
      const levelIn = -20 + 3 * (voiceOut + targetDb + 20);
      expect(Math.abs(cut.list.regions[0]!.gainDb - (levelIn - dB(0.9)))).toBeLessThan(1.2);
      const { afterDb } = forecastRise(samples, cut.list, { stages: [COMPRESSOR] }).byId.get(1)!;
      expect(Math.abs(afterDb! - targetDb)).toBeLessThanOrEqual(0.25);
    }
  });

  test('is none where it stays under the target, and never a boost', () => {
    const { samples, list } = takeOf([vowel(0.3), gap(), ess(0.01), gap(), vowel(0.3)]);
    const cut = preemptiveCut(samples, setGain(list, 1, -3), bright, { ...free, targetDb: -5 });
    expect(Object.is(cut.list.regions[0]!.gainDb, 0)).toBe(true);
    expect(cut.unreached).toEqual([]);
  });
});

describe('many regions at once', () => {
  let lead: DemoLead;
  let list: RegionList;
  beforeAll(() => {
    lead = demoLead();
    list = detectConsonants(lead.samples, { sampleRateHz: RATE });
  });

  test('sit at the target behind every preset, within the stated tolerance', () => {
    for (const chain of CHAIN_PRESETS) {
      const cut = preemptiveCut(lead.samples, list, chain, { guard: false, maxCutDb: 40, targetDb: -8 });
      expect(cut.unreached).toEqual([]);
      expect(cut.passes).toBeLessThanOrEqual(10);
      const { byId } = forecastRise(lead.samples, cut.list, chain, { kinds: ['sibilant'] });
      for (const { id, afterDb } of byId.values()) {
        const { gainDb, reason } = cut.list.regions.find((region) => region.id === id)!;
        if (gainDb === 0) expect(afterDb!).toBeLessThanOrEqual(-8 + 0.25);
        else expect(Math.abs(afterDb! + 8)).toBeLessThanOrEqual(0.25);
        expect(reason.rule).toBe('preemptiveCut');
        // The reason tells what was measured with this very gain.
        expect({ ...reason.numbers }).toMatchObject({ afterDb: expect.closeTo(afterDb!, 9) });
      }
    }
  });

  test('by default come out as they went in: the chain lifts none', () => {
    const chain = CHAIN_PRESETS[1]!;
    const cut = preemptiveCut(lead.samples, list, chain, free);
    const before = measureLevels(lead.samples, list);
    const { byId } = forecastRise(lead.samples, cut.list, chain, { kinds: ['sibilant'] });
    for (const { id, afterDb } of byId.values())
      expect(afterDb!).toBeLessThanOrEqual(before.byId.get(id)!.sibilanceDb! + 0.25);
  });

  test('are never cut into what the guard flags, and the guard is named where it stops a cut', () => {
    const cut = preemptiveCut(lead.samples, list, CHAIN_PRESETS[1]!, { targetDb: -14, maxCutDb: 40 });
    expect(overCutFlags(cut.list, measureLevels(lead.samples, list))).toEqual([]);
    expect(cut.unreached.filter(({ cause }) => cause === 'guard').length).toBeGreaterThan(0);
    const floors = floorsFor('test', list, measureLevels(lead.samples, list), {});
    for (const { id, reason } of cut.list.regions)
      if (reason.rule === 'preemptiveCut') {
        const { floorDb } = reason.numbers;
        expect(floorDb).toBe(floors.get(id)?.floorDb);
      }
    for (const { cause, afterDb } of cut.unreached) {
      expect(cause).toBe('guard');
      expect(afterDb!).toBeGreaterThan(-14 + 0.25);
    }
  });
});

describe('limits', () => {
  const { samples, list } = takeOf([
    vowel(0.3),
    gap(),
    ess(0.5),
    gap(),
    vowel(0.3),
    gap(),
    ess(0.4),
    gap(),
    vowel(0.3),
  ]);

  test('are named where they stop a cut', () => {
    const cut = preemptiveCut(samples, list, bright, { guard: false, maxCutDb: 6, targetDb: -5 });
    expect(cut.list.regions.map(({ gainDb }) => gainDb)).toEqual([-6, -6]);
    expect(cut.unreached.map(({ id, cause, targetDb }) => [id, cause, targetDb])).toEqual([
      [1, 'most cut', -5],
      [2, 'most cut', -5],
    ]);
    expect(cut.unreached[0]!.afterDb!).toBeGreaterThan(-4.75);
  });

  test('of passes are kept, and what has not settled is named', () => {
    const hard: Chain = { stages: [{ ...COMPRESSOR, ratio: 20 }] };
    const cut = preemptiveCut(samples, list, hard, { ...free, targetDb: -3, mostPasses: 2 });
    expect(cut.passes).toBe(2);
    expect(cut.unreached.map(({ cause }) => cause)).toEqual(['not settled', 'not settled']);
    expect(preemptiveCut(samples, list, hard, { ...free, targetDb: -3 }).unreached).toEqual([]);
  });

  test('are locks, bypass and choice: what they keep out stays as it is', () => {
    const kept = setBypassed(setLocked(setGain(list, 1, -2), 1, true), 2, true);
    const cut = preemptiveCut(samples, kept, bright, { ...free, targetDb: -20 });
    expect(cut.list).toBe(kept);
    expect(cut).toMatchObject({ unreached: [], passes: 0 });
    const chosen = preemptiveCut(samples, list, bright, { ...free, targetDb: -10, ids: [2] });
    expect(chosen.list.regions[0]).toBe(list.regions[0]);
    expect(chosen.list.regions[1]!.gainDb).toBeLessThan(-10);
  });

  test('that are no sound at all: a clip without a voice', () => {
    const alone = takeOf([gap(), ess(0.2), gap()]);
    const cut = preemptiveCut(alone.samples, alone.list, bright);
    expect(cut.list).toBe(alone.list);
    expect(cut.unreached).toEqual([{ id: 1, afterDb: null, targetDb: null, cause: 'nothing to compare' }]);
  });

  test('do not change the input, and twice gives the same gains', () => {
    const before = samples.slice();
    const first = preemptiveCut(samples, list, bright, { ...free, targetDb: -6 });
    expect(samples).toEqual(before);
    expect(list.regions[0]!.gainDb).toBe(0);
    expect(preemptiveCut(samples, first.list, bright, { ...free, targetDb: -6 }).list).toBe(first.list);
  });

  test('without a target of their own aim at the gains that were there before, however often they are asked', () => {
    for (const baseGainDb of [0, -3]) {
      const given = setGain(list, 1, baseGainDb);
      const first = preemptiveCut(samples, given, bright, free).list;
      expect(first.regions[0]!.reason.numbers).toMatchObject({ baseGainDb });
      expect(preemptiveCut(samples, first, bright, free).list).toBe(first);
      // Another chain starts from the same place.
      const other = { stages: [] };
      expect(preemptiveCut(samples, first, other, free).list.regions[0]!.gainDb).toBeCloseTo(baseGainDb, 0);
      // What hands have set since counts as it is.
      const byHand = setGain(first, 1, -7);
      expect(preemptiveCut(samples, byHand, bright, free).list.regions[0]!.reason.numbers).toMatchObject({
        baseGainDb: -7,
      });
    }
  });

  test('outside their ranges are refused', () => {
    const run = (options: object) => () => preemptiveCut(samples, list, bright, options);
    expect(run({ targetDb: Number.NaN })).toThrow('preemptiveCut: targetDb must be finite');
    expect(run({ maxCutDb: -1 })).toThrow('maxCutDb must lie within [0, 120]');
    expect(run({ toleranceDb: 0 })).toThrow('toleranceDb');
    expect(run({ mostPasses: 1 })).toThrow('mostPasses');
    expect(run({ kinds: ['hiss'] })).toThrow('preemptiveCut: kinds');
    expect(run({ guard: 'yes' })).toThrow('preemptiveCut: guard must be a boolean; received "yes"');
  });
});

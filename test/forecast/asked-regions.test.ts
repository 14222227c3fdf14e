import { describe, expect, it } from 'vitest';
import { chainSettingFor } from '../../src/forecast/chain-setting-for.js';
import {
  DEFAULT_KEYED_COMPRESSOR,
  type KeyedSpreadOptions,
  keyedSpread,
} from '../../src/forecast/keyed-spread.js';
import { COMPRESSOR, dB, ess, gap, takeOf, vowel } from './material.js';

describe('the spread of a keyed compressor', () => {
  const { samples, list } = takeOf([0.8, 0.4, 0.2].flatMap((amplitude) => [ess(amplitude), gap()]));
  const idsOf = (options: KeyedSpreadOptions): number[] => {
    const spread = keyedSpread(samples, list, DEFAULT_KEYED_COMPRESSOR, options);
    expect(spread.count).toBe(spread.byId.size);
    return [...spread.byId.keys()];
  };

  it('looks at what was chosen, by kind, by id or by both', () => {
    expect(idsOf({})).toEqual([1, 2, 3]);
    expect(idsOf({ ids: [3, 1] })).toEqual([1, 3]);
    expect(idsOf({ kinds: ['breath'] })).toEqual([]);
    expect(idsOf({ kinds: ['sibilant'], ids: [2] })).toEqual([2]);
    expect(idsOf({ kinds: ['breath'], ids: [2] })).toEqual([]);
  });
});

describe('the setting at which the esses cross a target', () => {
  // A wet share of 0 leaves all as it is, so that what is measured at `from` is known: the esses over the vowel beside them.
  const { samples, list } = takeOf([
    ...[0.8, 0.4, 0.2].flatMap((amplitude) => [vowel(0.2), gap(), ess(amplitude), gap()]),
    vowel(0.2),
  ]);
  const chain = { stages: [{ ...COMPRESSOR, thresholdDb: -60, wet: 0 }] };
  const at = (question: object) =>
    chainSettingFor(samples, list, chain, {
      stage: 0,
      parameter: 'wet',
      from: 0,
      to: 0,
      targetDb: 50,
      ...question,
    }).atFromDb!;

  // 0.02 dB: as in the test of both ends.
  it('is asked of the percentile of the esses that were chosen', () => {
    for (const [percentile, amplitude] of [
      [0, 0.2],
      [50, 0.4],
      [100, 0.8],
    ] as const)
      expect(Math.abs(at({ percentile }) - dB(amplitude / 0.2))).toBeLessThan(0.02);
    // By default the 90th: of three, 0.8 of the way from the second to the third (Hyndman and Fan 1996, definition 7, from memory).
    expect(Math.abs(at({}) - (dB(2) + 0.8 * (dB(4) - dB(2))))).toBeLessThan(0.02);
    expect(Math.abs(at({ ids: [3] }) - dB(1))).toBeLessThan(0.02);
    expect(Math.abs(at({ ids: [2, 3], percentile: 100 }) - dB(2))).toBeLessThan(0.02);
    expect(at({ kinds: ['breath'] })).toBe(null);
  });

  it('is either end where the target lies there, and near enough is what is asked for', () => {
    const ask = (targetDb: number, toleranceDb: number) =>
      chainSettingFor(samples, list, chain, {
        stage: 0,
        parameter: 'wet',
        from: 0,
        to: 1,
        targetDb,
        toleranceDb,
        percentile: 100,
      });
    const { atFromDb, atToDb } = ask(100, 0.05);
    expect(ask(atToDb!, 0.05)).toMatchObject({ value: 1, atValueDb: atToDb, passes: 2 });
    expect(ask(atFromDb! + 0.9, 1)).toMatchObject({ value: 0, atValueDb: atFromDb, passes: 2 });
    expect(ask(atFromDb! + 1.1, 1).value).toBe(null);
    const between = (atFromDb! + atToDb!) / 2;
    const rough = ask(between, 0.5);
    const fine = ask(between, 0.01);
    expect(Math.abs(rough.atValueDb! - between)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(fine.atValueDb! - between)).toBeLessThanOrEqual(0.01);
    expect(fine.passes).toBeGreaterThan(rough.passes);
  });
});

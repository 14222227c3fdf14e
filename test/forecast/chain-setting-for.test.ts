import { describe, expect, test } from 'vitest';
import type { Chain } from '../../src/forecast/chain.js';
import { type ChainSettingQuestion, chainSettingFor } from '../../src/forecast/chain-setting-for.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { runChain } from '../../src/forecast/run-chain.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { dB, ess, gap, RATE, takeOf, vowel } from './material.js';

const quick = {
  kind: 'compressor',
  thresholdDb: -12,
  ratio: 1,
  attackSeconds: 0,
  releaseSeconds: 0.05,
} as const;
const shelf = { kind: 'highShelf', frequencyHz: 3000, gainDb: 0 } as const;
const chain: Chain = { stages: [quick, { kind: 'equaliser', filters: [shelf] }] };
const { samples, list } = takeOf([vowel(0.2), gap(), ess(0.8), gap(), vowel(0.2)]);

function ask(question: Partial<ChainSettingQuestion>): ReturnType<typeof chainSettingFor> {
  return chainSettingFor(samples, list, chain, {
    stage: 0,
    parameter: 'ratio',
    from: 1,
    to: 20,
    targetDb: 8,
    ...question,
  });
}

describe('the setting at which the esses cross a target', () => {
  // The vowel lies under the threshold, the s above: behind the chain the s stands at T + (x − T)/R, so R = (x − T)/(v + t − T)
  // (static curve of Giannoulis, Massberg and Reiss 2012, solved by hand). 0.1: the tolerance of 0.05 dB and 0.05 dB of ripple
  // over a slope of (x − T)/R² ≈ 1 dB for 1 of ratio.
  test('is the ratio of the static curve', () => {
    const { value, atValueDb, chain: found } = ask({});
    expect(Math.abs(value! - (dB(0.8) + 12) / (dB(0.2) + 8 + 12))).toBeLessThan(0.1);
    expect(Math.abs(atValueDb! - 8)).toBeLessThanOrEqual(0.05);
    expect(found.stages[0]).toEqual({ ...quick, ratio: value });
    expect(found.stages[1]).toBe(chain.stages[1]);
    expect(() => runChain(samples, found, { sampleRateHz: RATE })).not.toThrow();
  });

  // Limiter: the s stands at the threshold, so T = v + t. 0.1 dB: tolerance and ripple.
  test('is the threshold of a limiter', () => {
    const limiter: Chain = { stages: [{ ...quick, ratio: 1000 }] };
    const { value } = chainSettingFor(samples, list, limiter, {
      stage: 0,
      parameter: 'thresholdDb',
      from: -2,
      to: -13,
      targetDb: 6,
    });
    expect(Math.abs(value! - (dB(0.2) + 6))).toBeLessThan(0.12);
  });

  // Audio EQ Cookbook: the difference of |H| at s and vowel must be what the target is above the sound as it is.
  test('is the gain of a shelf', () => {
    const { value } = ask({
      stage: 1,
      filter: 0,
      parameter: 'gainDb',
      from: 0,
      to: -12,
      targetDb: dB(4) - 5,
    });
    const [low, high] = magnitudeResponseDb(
      filterSections([{ ...shelf, gainDb: value! }], { sampleRateHz: RATE }),
      [500, 5701],
      { sampleRateHz: RATE },
    );
    expect(Math.abs(high! - low! + 5)).toBeLessThan(0.07);
  });

  test('is null where both ends lie on one side, with what was measured there', () => {
    const answer = ask({ targetDb: 40 });
    expect(answer).toMatchObject({ value: null, atValueDb: null, passes: 2 });
    expect(answer.chain).toBe(chain);
    expect(Math.abs(answer.atFromDb! - dB(4))).toBeLessThan(0.02);
    expect(answer.atToDb!).toBeLessThan(answer.atFromDb!);
  });

  test('is an end of the range where the target lies there', () => {
    expect(ask({ targetDb: dB(4) }).value).toBe(1);
  });

  test('is as near as twenty halvings come where it jumps', () => {
    // A bell of 6 Hz width moved over the s, from 1 kHz to its peak of 60 dB: a 2^20th of 4701 Hz is still over 0.001 dB on its flank, and the
    // target lies in the middle of that.
    const short = takeOf([vowel(0.2, 0.3), gap(), ess(0.01, 0.3), gap()]);
    const bell = { kind: 'peaking', frequencyHz: 1000, q: 1000, gainDb: 60 } as const;
    const answer = chainSettingFor(
      short.samples,
      short.list,
      { stages: [{ kind: 'equaliser', filters: [bell] }] },
      {
        stage: 0,
        filter: 0,
        parameter: 'frequencyHz',
        from: 1000,
        to: 5701,
        targetDb: 3,
        toleranceDb: 0.001,
      },
    );
    expect(answer.value).toBeGreaterThan(5000);
    expect(answer.passes).toBeLessThanOrEqual(2 + 20);
  });

  test('is null in a clip with nothing to compare', () => {
    const alone = takeOf([gap(), ess(0.5)]);
    const answer = chainSettingFor(alone.samples, alone.list, chain, {
      stage: 0,
      parameter: 'ratio',
      from: 1,
      to: 4,
      targetDb: 0,
    });
    expect(answer).toMatchObject({ value: null, atFromDb: null, atToDb: null });
  });
});

test('settings that the chain does not have, and ends that it forbids, are refused', () => {
  expect(() => ask({ stage: 2 })).toThrow('chainSettingFor: stage must lie within [0, 1]');
  expect(() => ask({ parameter: 'warmth' })).toThrow('chain.stages[0] must have only the fields');
  expect(() => ask({ parameter: 'detector' })).toThrow('chain.stages[0].detector must be one of');
  expect(() => ask({ from: 0 })).toThrow('chain.stages[0].ratio must lie within [1, 1000]; received 0');
  expect(() => ask({ filter: 0 })).toThrow('filter must be left out: stage 0 is no equaliser');
  expect(() => ask({ stage: 1, filter: 3, parameter: 'gainDb' })).toThrow('filter must lie within [0, 0]');
  expect(() => ask({ percentile: 101 })).toThrow('percentile');
});

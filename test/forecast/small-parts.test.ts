import { describe, expect, it } from 'vitest';
import { checkStageOutput, latencyOf } from '../../src/forecast/chain-cores.js';
import { chainSettingFor } from '../../src/forecast/chain-setting-for.js';
import { createEffectJudge } from '../../src/forecast/compressor-effect.js';
import { createChainProcessor } from '../../src/forecast/create-chain-processor.js';
import { createCutSearch } from '../../src/forecast/cut-search.js';
import { createEqualiser, equalise } from '../../src/forecast/equalise.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { stageFigures } from '../../src/forecast/forecast-statement.js';
import { halfBandTaps, passEdge } from '../../src/forecast/half-band.js';
import {
  DEFAULT_KEYED_COMPRESSOR,
  type KeyedSpreadOptions,
  keyedSpread,
} from '../../src/forecast/keyed-spread.js';
import { region } from '../lib/region.js';
import { dB, ess, gap, RATE, takeOf, vowel } from './material.js';

const COMPRESSOR = {
  kind: 'compressor',
  thresholdDb: -20,
  ratio: 3,
  attackSeconds: 0,
  releaseSeconds: 0.05,
} as const;
const CURVE = { kind: 'saturation', curve: 'clip', driveDb: 0 } as const;

describe('what a stage does, in words', () => {
  it('is its place, kind and name, and the median with its sign', () => {
    expect(stageFigures(CURVE, 0, 1.24, []).statement).toBe('1. saturation: median rise +1.2 dB.');
    expect(stageFigures(CURVE, 1, 0, []).statement).toBe('2. saturation: median rise +0.0 dB.');
    const named = stageFigures({ ...CURVE, name: 'drive' }, 4, -0.51, []);
    expect(named.statement).toBe('5. saturation "drive": median rise −0.5 dB.');
    expect(named).toMatchObject({ index: 4, kind: 'saturation', name: 'drive', effects: null });
    expect(stageFigures(CURVE, 0, null, [])).toMatchObject({
      name: 'saturation',
      statement: '1. saturation: nothing to compare.',
    });
  });

  it('counts what a compressor does to which regions, and leaves out what it does to none', () => {
    const { effects, statement } = stageFigures(COMPRESSOR, 0, 2, ['untouched', 'lifted', null, 'lifted']);
    expect(effects).toEqual({ lifted: 2, 'drives the detector': 0, 'held by the voice': 0, untouched: 1 });
    expect(statement).toMatch(
      /^1\. compressor: median rise \+2\.0 dB; it lifts 2, [^;]+; it leaves 1 [^;]+\.$/,
    );
    const all = stageFigures(COMPRESSOR, 0, 0, ['held by the voice', 'drives the detector']).statement;
    expect(all.split('; ')).toHaveLength(3);
    expect(all.indexOf('drives the detector')).toBeLessThan(all.indexOf('as for the voice'));
    expect(stageFigures(CURVE, 0, 2, [null]).statement).not.toContain('lifts');
  });
});

describe('the effect of a compressor on a region', () => {
  const noise = region({ startSample: 100, endSample: 200 });
  const judge = (stage: typeof COMPRESSOR | typeof CURVE, amplitude: number) => {
    const judged = createEffectJudge([noise], { stages: [CURVE, stage] }, RATE);
    judged.enter(1, [new Float32Array(300).fill(amplitude)]);
    return judged;
  };
  const gainOf = (...[from, to, gainDb]: readonly [number, number, number]): Float64Array =>
    new Float64Array(300).fill(0).fill(gainDb, from, to);

  it('is a lift from a tenth of a decibel on', () => {
    const loud = judge(COMPRESSOR, 0.5);
    expect(loud.effect(0, 0.1, gainOf(0, 0, 0))).toBe('lifted');
    expect(loud.effect(0, 0.0999, gainOf(0, 0, 0))).toBe('drives the detector');
  });

  it('hangs on what it would do to the noise alone, then on what it does to it', () => {
    const soft = judge(COMPRESSOR, 0.05);
    expect(soft.effect(0, 0, gainOf(0, 0, 0))).toBe('untouched');
    for (const [from, to] of [
      [100, 101],
      [199, 200],
    ] as const)
      expect(soft.effect(0, 0, gainOf(from, to, -0.11))).toBe('held by the voice');
    // As much as is no cut, and a cut beside it.
    expect(soft.effect(0, 0, gainOf(100, 200, -0.1))).toBe('untouched');
    expect(soft.effect(0, 0, gainOf(0, 100, -6))).toBe('untouched');
    expect(soft.effect(0, 0, gainOf(200, 300, -6))).toBe('untouched');
    // A noise that drives it for one sample drives it.
    const click = createEffectJudge([noise], { stages: [COMPRESSOR] }, RATE);
    click.enter(0, [new Float32Array(300).fill(0.9, 150, 151)]);
    expect(click.effect(0, -1, gainOf(0, 0, 0))).toBe('drives the detector');
    const beside = createEffectJudge([noise], { stages: [COMPRESSOR] }, RATE);
    beside.enter(0, [new Float32Array(300).fill(0.9, 0, 100).fill(0.9, 200)]);
    expect(beside.effect(0, -1, gainOf(0, 0, 0))).toBe('untouched');
  });

  it('is heard at a compressor alone: what enters another stage changes nothing', () => {
    const judged = judge(COMPRESSOR, 0.5);
    judged.enter(0, [new Float32Array(300)]);
    expect(judged.effect(0, 0, gainOf(0, 0, 0))).toBe('drives the detector');
  });
});

describe('the search for a cut', () => {
  /** Moves until it settles; what is heard is `before + slope · gain`. */
  function run(before: number, slope: number, targetDb: number, leastGainDb: number, toleranceDb = 0.1) {
    const search = createCutSearch(targetDb, leastGainDb);
    const tried: number[] = [];
    for (let k = 0; k < 30; k++) {
      tried.push(search.gainDb);
      search.heard(before + slope * search.gainDb);
      if (search.settled(toleranceDb)) break;
      search.move(toleranceDb);
    }
    return { search, tried };
  }

  it('tries no cut first, then the difference, then what the slope of the two says', () => {
    // A slope of 1 is met at once, any other by the second step: two points give a line.
    expect(run(4, 1, 1, -20).tried).toEqual([0, -3]);
    const { tried } = run(4, 0.5, 1, -20);
    expect(tried).toHaveLength(3);
    expect(tried[2]).toBeCloseTo(-6, 12);
    const steep = run(4, 1.6, 1, -20).tried;
    expect(steep).toHaveLength(3);
    expect(steep[2]).toBeCloseTo(-3 / 1.6, 12);
  });

  it('makes no cut of what lies under the target', () => {
    const { search, tried } = run(-4, 1, 1, -20);
    expect(tried).toEqual([0]);
    expect(search.reached(0.1)).toBe(true);
    expect(search.atLeastGain).toBe(false);
  });

  it('stops at the least gain, and says that it is not enough', () => {
    const { search, tried } = run(30, 1, 1, -6);
    expect(tried).toEqual([0, -6]);
    expect(search.atLeastGain).toBe(true);
    expect(search.reached(0.1)).toBe(false);
    expect(search.settled(0.1)).toBe(true);
    expect(search.afterDb).toBe(24);
    // At the least gain and at the target: enough.
    const enough = run(7, 1, 1, -6).search;
    expect([enough.gainDb, enough.atLeastGain, enough.reached(0.1)]).toEqual([-6, false, true]);
  });

  it('stays where it is once it has settled', () => {
    const { search } = run(4, 1, 1, -20);
    search.move(0.1);
    expect(search.gainDb).toBe(-3);
  });

  it('goes back to no cut where what was heard falls under the target by itself', () => {
    const search = createCutSearch(0, -20);
    search.heard(6);
    search.move(0.1);
    expect(search.gainDb).toBe(-6);
    // Far too soft, as where a neighbour's cut has quietened it too: half of what is left between the two.
    search.heard(-30);
    search.move(0.1);
    expect(search.gainDb).toBeGreaterThan(-6);
    expect(search.gainDb).toBeLessThanOrEqual(0);
  });

  it('opens again where what shut it in has changed since', () => {
    // Three decibels off on either side of −5 dB, so that it is shut in there; then another chain, which asks for −15.
    const search = createCutSearch(0, -20);
    for (let k = 0; k < 25; k++) {
      search.heard(search.gainDb > -5 ? 3 : -3);
      search.move(0.1);
    }
    let steps = 0;
    for (search.heard(search.gainDb + 15); !search.settled(0.1) && steps < 12; steps++) {
      search.move(0.1);
      search.heard(search.gainDb + 15);
    }
    expect(Math.abs(search.gainDb + 15)).toBeLessThanOrEqual(0.1);
  });

  it('settles on curves that bend, inside of what is too soft and too loud', () => {
    // A compressor behind it: a third of the slope above −4 dB, all of it below.
    const bent = (gainDb: number): number => (gainDb > -4 ? 10 + gainDb / 3 : 10 - 4 / 3 + (gainDb + 4));
    for (const targetDb of [9.5, 8.7, 8, 3, -2]) {
      const search = createCutSearch(targetDb, -40);
      let steps = 0;
      for (search.heard(bent(search.gainDb)); !search.settled(0.05) && steps < 20; steps++) {
        search.move(0.05);
        search.heard(bent(search.gainDb));
      }
      expect(Math.abs(bent(search.gainDb) - targetDb)).toBeLessThanOrEqual(0.05);
      expect(steps).toBeLessThan(8);
    }
  });
});

describe('the half-band filter', () => {
  it('passes up to 20 kHz, as far as 0.4 to 0.4535 of the rate allow', () => {
    expect(passEdge(48_000)).toBe(20_000 / 48_000);
    expect(passEdge(44_100)).toBe(20_000 / 44_100);
    expect(passEdge(32_000)).toBe(20_000 / 44_100);
    expect(passEdge(50_000)).toBe(0.4);
    expect(passEdge(192_000)).toBe(0.4);
  });

  it('passes a steady value exactly, however short it is', () => {
    for (const transition of [0.04, 0.1, 0.2, 0.5]) {
      const taps = halfBandTaps(transition);
      expect(2 * taps.reduce((sum, tap) => sum + tap, 0)).toBeCloseTo(1, 14);
      expect(taps.length).toBeGreaterThanOrEqual(8);
    }
  });
});

describe('stages in a row', () => {
  it('are as late as all of them together', () => {
    const late = (latencySamples: number) => ({ latencySamples, run: () => {} });
    expect(latencyOf([])).toBe(0);
    expect(latencyOf([late(3), late(0), late(5)])).toBe(8);
  });

  it('name the sample, the stage and its name where one overflows', () => {
    const channel = new Float32Array([0, 1, Number.POSITIVE_INFINITY]);
    const stage = { kind: 'equaliser', filters: [] } as const;
    expect(() => checkStageOutput('f', stage, 2, channel)).toThrow(
      'f: sample 2 behind chain.stages[2] (equaliser) must be finite: the stage overflowed; received Infinity',
    );
    expect(() => checkStageOutput('f', { ...stage, name: 'air' }, 0, channel, 1)).toThrow(
      'f: sample 1 behind chain.stages[0] (equaliser "air")',
    );
    // What comes out before the sound does has no sample of its own.
    expect(() => checkStageOutput('f', stage, 0, channel, 9)).toThrow('f: sample 0 behind');
    expect(() => checkStageOutput('f', stage, 0, channel.subarray(0, 2))).not.toThrow();
  });

  it('refuse blocks and places of other numbers of channels and other lengths', () => {
    const two = createEqualiser({ sampleRateHz: RATE, channelCount: 2, filters: [] });
    const block = (count: number, length = 4) =>
      Array.from({ length: count }, () => new Float32Array(length));
    expect(() => two.pushInto(block(2), block(1))).toThrow(
      'pushInto: block must have 2 channels; received 1',
    );
    expect(() => two.pushInto(block(3), block(2))).toThrow('pushInto: out must have 2 channels; received 3');
    expect(() => two.pushInto(block(2, 5), block(2))).toThrow(
      'pushInto: out must be as long as the block (4); received 5',
    );
    for (const channelCount of [0, 65])
      expect(() => createEqualiser({ sampleRateHz: RATE, channelCount, filters: [] })).toThrow(
        `createEqualiser: channelCount must lie within [1, 64]; received ${channelCount}`,
      );
  });

  it('pass the sound into another place or their own, and leave the block as it was', () => {
    const chain = { stages: [{ kind: 'equaliser', filters: [] }] } as const;
    const block = Float32Array.of(0.1, -0.2, 0.3);
    const processor = createChainProcessor(chain, { sampleRateHz: RATE });
    const out = new Float32Array(3);
    processor.pushInto(out, block);
    expect(out).toEqual(block);
    processor.pushInto(block, block);
    expect(out).toEqual(block);
  });
});

describe('an equaliser beside the dry sound', () => {
  it('mixes both by their shares, in place too and over blocks of growing length', () => {
    const filters = [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 9 }] as const;
    const sound = Float32Array.from({ length: 60 }, (_, i) => Math.sin(i) / 2);
    const wholly = equalise(sound, { sampleRateHz: RATE, filters });
    const mixed = equalise(sound, { sampleRateHz: RATE, filters, wet: 0.25 });
    // Both are rounded to 32 bits: 2^−24 of amplitudes of about 1.
    mixed.forEach((x, i) => {
      expect(Math.abs(x - (0.75 * sound[i]! + 0.25 * wholly[i]!))).toBeLessThan(2 ** -23);
    });
    const stream = createEqualiser({ sampleRateHz: RATE, filters, wet: 0.25 });
    const inPlace = sound.slice();
    for (const [from, to] of [
      [0, 7],
      [7, 40],
      [40, 60],
    ] as const)
      stream.pushInto(inPlace.subarray(from, to), inPlace.subarray(from, to));
    expect(inPlace).toEqual(mixed);
  });
});

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

describe('filters', () => {
  it('of no kind are refused by what they are not', () => {
    const kinds = 'lowPass, highPass, bandPass, peaking, lowShelf, highShelf';
    const sections = (filters: unknown) => () => filterSections(filters as never, { sampleRateHz: RATE });
    expect(sections([{ kind: 'notch' }])).toThrow(`filterSections: kind must be one of ${kinds}`);
    expect(sections([undefined])).toThrow(`filterSections: kind must be one of ${kinds}`);
    expect(sections('none')).toThrow('filterSections: filters must be an array of filters; received "none"');
    expect(sections([])()).toEqual([]);
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

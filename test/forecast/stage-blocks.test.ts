import { describe, expect, it } from 'vitest';
import { checkStageOutput, latencyOf } from '../../src/forecast/chain-cores.js';
import { compressionGain } from '../../src/forecast/compress.js';
import { createChainProcessor } from '../../src/forecast/create-chain-processor.js';
import { createEqualiser, equalise } from '../../src/forecast/equalise.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { halfBandTaps, passEdge } from '../../src/forecast/half-band.js';
import { RATE } from './material.js';

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

describe('a compressor with a threshold above full scale', () => {
  it('turns down what lies above it, and nothing below', () => {
    const settings = {
      sampleRateHz: RATE,
      thresholdDb: 6,
      ratio: 2,
      kneeDb: 0,
      attackSeconds: 0,
      releaseSeconds: 0.05,
    };
    const gainAt = (amplitude: number): number =>
      compressionGain(new Float32Array(100).fill(amplitude), settings)[99]!;
    // 12.04 dB lie 6.04 over the threshold, of which a ratio of 2 takes off half (curve of Giannoulis, Massberg and Reiss 2012).
    expect(gainAt(4)).toBeCloseTo(-(20 * Math.log10(4) - 6) / 2, 6);
    expect(gainAt(1.9)).toBe(0);
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

  it('name the channel and the sample that is not finite', () => {
    const bad = Float32Array.of(0, Number.NaN);
    const settings = { sampleRateHz: RATE, filters: [] };
    expect(() => equalise(bad, settings)).toThrow('equalise: samples[1] must be finite');
    expect(() => equalise([bad], settings)).toThrow('equalise: samples[1] must be finite');
    expect(() => equalise([new Float32Array(2), bad], settings)).toThrow(
      'equalise: channels[1][1] must be finite',
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

describe('filters', () => {
  it('of no kind are refused by what they are not', () => {
    const kinds = 'lowPass, highPass, bandPass, peaking, lowShelf, highShelf';
    const sections = (filters: unknown) => () => filterSections(filters as never, { sampleRateHz: RATE });
    expect(sections([{ kind: 'notch' }])).toThrow(`filterSections: filters[0].kind must be one of ${kinds}`);
    expect(sections([undefined])).toThrow('filterSections: filters[0] must be an object; received undefined');
    expect(sections([{ kind: 'lowPass', frequencyHz: RATE }])).toThrow(
      'filterSections: filters[0].frequencyHz must lie above 0 and under half the sample rate',
    );
    expect(sections('none')).toThrow('filterSections: filters must be an array; received "none"');
    expect(sections([])()).toEqual([]);
  });
});

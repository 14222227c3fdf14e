import { describe, expect, test } from 'vitest';
import type { Chain } from '../../src/forecast/chain.js';
import { compress, compressionGain } from '../../src/forecast/compress.js';
import { createChainProcessor } from '../../src/forecast/create-chain-processor.js';
import { equalise } from '../../src/forecast/equalise.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import { runChain } from '../../src/forecast/run-chain.js';
import { saturate } from '../../src/forecast/saturate.js';
import { peakDbfs, rmsDbfs } from '../../src/signal/meters.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 48000;
const compressor = {
  kind: 'compressor',
  thresholdDb: -30,
  ratio: 4,
  attackSeconds: 0.005,
  releaseSeconds: 0.1,
  makeUpDb: 6,
} as const;
const equaliser = {
  kind: 'equaliser',
  filters: [{ kind: 'highShelf', frequencyHz: 7000, gainDb: 5 }],
} as const;
const saturation = { kind: 'saturation', curve: 'tanh', driveDb: 10, bias: 0.1, wet: 0.6 } as const;
const chain: Chain = { stages: [compressor, equaliser, saturation, compressor] };
const channels = [whiteNoise(1, 6000, 0.2), whiteNoise(2, 6000, 0.1)];

describe('a chain', () => {
  test('is its stages one after the other, to the bit', () => {
    const at = { sampleRateHz: RATE };
    const byHand = saturate(compress(channels, { ...compressor, ...at }), { ...saturation, ...at });
    expect(runChain(channels, { stages: [compressor, saturation] }, at).channels).toEqual(byHand);
    const plain = { ...saturation, oversampling: 1 };
    const inRow = compress(saturate(equalise(channels, { ...equaliser, ...at }), { ...plain, ...at }), {
      ...compressor,
      ...at,
    });
    expect(runChain(channels, { stages: [equaliser, plain, compressor] }, at).channels).toEqual(inRow);
  });

  test('lines up the gain of a compressor behind a saturation', () => {
    // A click that the compressor answers at once: its gain must move at the click, not 50 samples later.
    const click = new Float32Array(2000);
    click[1000] = 1;
    const stages = [saturation, { ...compressor, attackSeconds: 0 }] as const;
    const { stages: left } = runChain(click, { stages }, { sampleRateHz: RATE, keepStages: true });
    const gain = left[1]!.gainDb!;
    const lowest = gain.indexOf(Math.min(...gain));
    expect(lowest).toBe(1000);
    const peakAt = (x: Samples) => x.indexOf(Math.max(...x));
    expect(peakAt(left[0]!.channels![0]!)).toBe(1000);
    expect(gain.length).toBe(2000);
  });

  test('keeps the order of its stages', () => {
    const turned = runChain(channels, { stages: [saturation, compressor] }, { sampleRateHz: RATE });
    const straight = runChain(channels, { stages: [compressor, saturation] }, { sampleRateHz: RATE });
    expect(turned.channels[0]).not.toEqual(straight.channels[0]);
  });

  test('says what left each stage', () => {
    const samples = channels[0]!;
    const named: Chain = { stages: [{ ...compressor, name: 'hold' }, saturation] };
    const { stages } = runChain(samples, named, { sampleRateHz: RATE, keepStages: true });
    const first = compress(samples, { ...compressor, sampleRateHz: RATE });
    const gain = compressionGain(samples, { ...compressor, sampleRateHz: RATE });
    expect(stages[0]).toMatchObject({ index: 0, kind: 'compressor', name: 'hold' });
    expect(stages[0]!.channels).toEqual([first]);
    expect(stages[0]!.gainDb).toEqual(gain);
    expect(stages[0]!.lowestGainDb).toBe(Math.min(...gain));
    expect(stages[0]!.rmsDbfs).toBeCloseTo(rmsDbfs(first), 9);
    expect(stages[0]!.peakDbfs).toBe(peakDbfs(first));
    expect(stages[1]).toMatchObject({ index: 1, kind: 'saturation', name: 'saturation', lowestGainDb: null });
    const lean = runChain(samples, named, { sampleRateHz: RATE });
    expect(lean.stages.map(({ channels: kept, gainDb }) => [kept, gainDb])).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  test('of no stages gives a copy, of silence silence, of nothing nothing', () => {
    const { channels: copy, stages } = runChain(channels, { stages: [] }, { sampleRateHz: RATE });
    expect(copy).toEqual(channels);
    expect(copy[0]).not.toBe(channels[0]);
    expect(stages).toEqual([]);
    for (const preset of CHAIN_PRESETS) {
      const silent = runChain(new Float32Array(1000), preset, { sampleRateHz: RATE });
      expect(silent.channels[0]).toEqual(new Float32Array(1000));
      expect(silent.stages[0]!.rmsDbfs).toBe(Number.NEGATIVE_INFINITY);
      expect(runChain(new Float32Array(0), preset, { sampleRateHz: RATE }).channels[0]!.length).toBe(0);
    }
  });

  test('does not change its input', () => {
    const before = channels.map((x) => x.slice());
    runChain(channels, chain, { sampleRateHz: RATE });
    expect(channels).toEqual(before);
  });

  test('gives the same bits block by block, later by the stages’ latencies added up', () => {
    const whole = runChain(channels, chain, { sampleRateHz: RATE }).channels;
    for (const lengths of [[1], [0, 100, 511], [6050]]) {
      const processor = createChainProcessor(chain, { sampleRateHz: RATE, channelCount: 2 });
      const { latencySamples } = processor;
      expect(latencySamples).toBeGreaterThan(0);
      const padded = channels.map((x) => Float32Array.of(...x, ...new Float32Array(latencySamples)));
      const heard: number[][] = [[], []];
      for (const block of blocksOf(padded as Samples[], lengths)) {
        const out = block.map((x) => new Float32Array(x.length));
        processor.pushInto(out, block);
        out.forEach((x, c) => {
          heard[c]!.push(...x);
        });
      }
      expect(heard.map((x) => Float32Array.from(x.slice(latencySamples)))).toEqual(whole);
    }
  });
});

describe('a chain that cannot be', () => {
  const run = (stages: unknown) => () => runChain(channels, { stages } as Chain, { sampleRateHz: RATE });

  test('is refused by stage and field', () => {
    expect(run([equaliser, { ...compressor, ratio: 0.9 }])).toThrow(
      new RangeError('runChain: chain.stages[1].ratio must lie within [1, 1000]; received 0.9'),
    );
    expect(run([{ ...equaliser, filters: [{ kind: 'lowPass', frequencyHz: 24001 }] }])).toThrow(
      'chain.stages[0].filters[0].frequencyHz must lie above 0 and under half the sample rate (24000)',
    );
    expect(run([{ kind: 'reverb' }])).toThrow(
      'chain.stages[0].kind must be one of compressor, equaliser, saturation; received "reverb"',
    );
    expect(run([{ ...compressor, kneedB: 3 }])).toThrow('chain.stages[0] must have only the fields');
    expect(run([{ kind: 'compressor', ratio: 2 }])).toThrow(
      'chain.stages[0].thresholdDb must be a number; received undefined',
    );
    expect(run(undefined)).toThrow('chain.stages must be an array');
    expect(run(Array(33).fill(equaliser))).toThrow('chain.stages must hold at most 32; received 33');
    expect(run([null])).toThrow('chain.stages[0] must be an object');
    expect(() => runChain(channels, null as never, { sampleRateHz: RATE })).toThrow(TypeError);
    expect(() => runChain(channels, chain, {} as never)).toThrow('runChain: sampleRateHz');
    expect(() =>
      createChainProcessor({ stages: [{ ...saturation, wet: -1 }] }, { sampleRateHz: RATE }),
    ).toThrow('createChainProcessor: chain.stages[0].wet');
  });

  test('names the stage that overflows', () => {
    const huge = Float32Array.of(0.1, 3e38);
    const stages = [
      { kind: 'equaliser', filters: [] },
      { ...equaliser, name: 'far too bright' },
    ] as const;
    expect(() => runChain(huge, { stages }, { sampleRateHz: RATE })).toThrow(
      /runChain: sample 1 behind chain\.stages\[1\] \(equaliser "far too bright"\) must be finite: the stage overflowed; received Infinity/,
    );
    const processor = createChainProcessor({ stages }, { sampleRateHz: RATE });
    expect(() => processor.pushInto(huge.slice(), huge)).toThrow('behind chain.stages[1]');
  });
});

test('the presets keep the rules at the usual rates and cannot be changed', () => {
  for (const preset of CHAIN_PRESETS) {
    for (const sampleRateHz of [44100, 48000, 96000, 192000])
      runChain(new Float32Array(10), preset, { sampleRateHz });
    for (const stage of preset.stages) expect(Object.isFrozen(stage)).toBe(true);
    expect(preset.name).toMatch(/^[a-z ]+$/);
  }
});

import fc from 'fast-check';
import * as f from '../../../src/forecast/index.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import type { Channels, Samples } from '../../../src/signal/samples.js';
import { chains, compressors, equalisers, filters, saturations } from '../arbitraries/chains.js';
import { type ClipLimits, clips, listed } from '../arbitraries/clips.js';
import { guards } from '../arbitraries/measured.js';
import { options, rates, whole, within } from '../arbitraries/numbers.js';
import { clipsWithLists } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const LIMITS: ClipLimits = { mostSeconds: 0.05, mostChannels: 8 };
const heard = clipsWithLists({
  mostSeconds: 0.2,
  mostChannels: 2,
  mostLevel: 4,
  rates: fc.constantFrom(8000, 44100, 48000),
});
const stream = fc.record({ sampleRateHz: rates, channelCount: whole(1, 3) });
const kinds = options({ kinds: fc.subarray([...REGION_KINDS]) });
const audio = { audio: [0, 'all'] as const, weight: 0.4 };
// The rules of a chain are told by the function that was called.
const slow = { audio: [0, 'all'] as const, weight: 0.08 };

function withRate<S>(
  settings: fc.Arbitrary<S>,
): fc.Arbitrary<readonly [Channels, S & { sampleRateHz: number }]> {
  return fc
    .tuple(clips(LIMITS), settings)
    .map(([c, s]) => [c.channels, { ...s, sampleRateHz: c.sampleRateHz }] as const);
}

/** The whole clip, taken through blocks, is the same but for the stated latency. */
function equalsBlocks(out: readonly Samples[], input: Channels, processor: f.StageProcessor): void {
  const late = processor.latencySamples;
  const all = listed(input);
  const length = all[0]!.length + late;
  const padded = all.map((x) => Float32Array.from({ length }, (_, i) => x[i] ?? 0) as Samples);
  const blocks = padded.map((x) => new Float32Array(x.length) as Samples);
  for (let at = 0, n = 1; at < length; at += n, n = (n * 5) % 777)
    processor.pushInto(
      blocks.map((x) => x.subarray(at, at + n)),
      padded.map((x) => x.subarray(at, at + n)),
    );
  for (const [c, x] of out.entries())
    for (let i = 0; i < x.length; i++)
      must(Object.is(x[i], blocks[c]![i + late]), 'a whole clip must equal its blocks', i);
}

const pushes = (processor: f.StageProcessor, o: { channelCount?: number }): void => {
  const block = Array.from({ length: o.channelCount ?? 1 }, () => new Float32Array(64).fill(0.5));
  processor.pushInto(block, block);
  must(
    block.every((x) => x.every(Number.isFinite)),
    'must be finite',
  );
};

export const FORECAST: Properties = {
  compress: property(
    (channels: Channels, o: f.CompressOptions) => f.compress(channels, o),
    withRate(compressors),
    {
      ...audio,
      check: (out, x, o) =>
        equalsBlocks(listed(out), x, f.createCompressor({ ...o, channelCount: listed(x).length })),
    },
  ),
  compressionGain: property(f.compressionGain, withRate(compressors), audio),
  createCompressor: property(
    f.createCompressor,
    fc.tuple(compressors, stream).map(([s, o]) => [{ ...s, ...o }] as const),
    {
      repeats: false,
      check: pushes,
    },
  ),
  compressionGainAt: property(
    f.compressionGainAt,
    fc.tuple(
      within(-300, 300),
      fc.record({ thresholdDb: within(-100, 20), ratio: within(1, 1000), kneeDb: within(0, 60) }),
    ),
  ),
  equalise: property(
    (channels: Channels, o: f.EqualiseOptions) => f.equalise(channels, o),
    withRate(equalisers),
    {
      ...audio,
      check: (out, x, o) =>
        equalsBlocks(listed(out), x, f.createEqualiser({ ...o, channelCount: listed(x).length })),
    },
  ),
  createEqualiser: property(
    f.createEqualiser,
    fc.tuple(equalisers, stream).map(([s, o]) => [{ ...s, ...o }] as const),
    {
      repeats: false,
      check: pushes,
    },
  ),
  saturate: property(
    (channels: Channels, o: f.SaturateOptions) => f.saturate(channels, o),
    withRate(saturations),
    {
      ...audio,
      check: (out, x, o) =>
        equalsBlocks(listed(out), x, f.createSaturation({ ...o, channelCount: listed(x).length })),
    },
  ),
  createSaturation: property(
    f.createSaturation,
    fc.tuple(saturations, stream).map(([s, o]) => [{ ...s, ...o }] as const),
    {
      repeats: false,
      check: pushes,
    },
  ),
  saturateValue: property(
    f.saturateValue,
    fc.tuple(
      within(-1e6, 1e6),
      fc.record({
        curve: fc.constantFrom(...f.SATURATION_CURVES),
        driveDb: within(-60, 60),
        bias: within(-0.9, 0.9),
      }),
    ),
  ),
  smoothingCoefficient: property(
    f.smoothingCoefficient,
    fc.tuple(within(0, 10), fc.record({ sampleRateHz: rates })),
    {
      check: (result) => must(result >= 0 && result < 1, 'must lie within 0 and 1', result),
    },
  ),
  filterSections: property(f.filterSections, fc.tuple(filters, fc.record({ sampleRateHz: rates })), {}),
  runChain: property(
    f.runChain,
    fc
      .tuple(clips({ ...LIMITS, mostChannels: 3 }), chains, options({ keepStages: fc.boolean() }))
      .map(([c, chain, o]) => [c.channels, chain, { sampleRateHz: c.sampleRateHz, ...o }] as const),
    {
      audio: [0, 'all'],
      weight: 0.2,
      infinite: 'negative',
      check: ({ channels }, x, chain, { sampleRateHz }) =>
        equalsBlocks(
          channels,
          x,
          f.createChainProcessor(chain, { sampleRateHz, channelCount: listed(x).length }),
        ),
    },
  ),
  createChainProcessor: property(f.createChainProcessor, fc.tuple(chains, stream), {
    repeats: false,
    check: (processor, _, o) => pushes(processor, o),
  }),
  forecastRise: property(
    f.forecastRise,
    fc
      .tuple(heard, chains, kinds, options({ applyGains: fc.boolean(), neighbourSeconds: within(0.01, 1) }))
      .map(([c, chain, k, o]) => [c.channels, c.list, chain, { ...k, ...o }] as const),
    slow,
  ),
  keyedSpread: property(
    f.keyedSpread,
    fc.tuple(heard, compressors, kinds).map(([c, s, o]) => [c.channels, c.list, s, o] as const),
    { ...slow, weight: 0.15 },
  ),
  preemptiveCut: property(
    f.preemptiveCut,
    fc
      .tuple(
        heard,
        chains,
        guards,
        options({
          targetDb: fc.option(within(-30, 30)),
          maxCutDb: within(0, 60),
          toleranceDb: within(0.1, 3),
          mostPasses: whole(2, 5),
        }),
      )
      .map(([c, chain, guard, o]) => [c.channels, c.list, chain, { ...guard, ...o }] as const),
    { ...slow, weight: 0.05 },
  ),
  chainSettingFor: property(
    f.chainSettingFor,
    fc
      .tuple(heard, compressors, within(-60, -20), within(1, 30), within(-12, 12), kinds)
      .map(([c, s, from, width, targetDb, k]) => {
        const chain = { stages: [{ kind: 'compressor' as const, ...s }] };
        const question = {
          stage: 0,
          parameter: 'thresholdDb',
          from,
          to: Math.min(from + width, 20),
          targetDb,
          ...k,
        };
        return [c.channels, c.list, chain, question] as const;
      }),
    { ...slow, weight: 0.05, mayRefuse: /must (hold|leave|name|be)/ },
  ),
};

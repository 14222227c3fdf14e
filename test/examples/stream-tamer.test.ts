import { describe, expect, it } from 'vitest';
import { createStreamTamer, type StreamTamer } from '../../examples/lib/stream-tamer.js';
import { DETECTION_LATENCY_SECONDS } from '../../src/detection/create-consonant-detector.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { DetectionOptions } from '../../src/detection/detection-options.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { highPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { ALL_SIBILANT, constant } from '../lib/constant-classifier.js';
import { demoLead } from '../lib/demo-lead.js';
import { whiteNoise } from '../lib/random.js';

// Every kind is cut, so that every edge and fade shows in the samples.
const cutAll = (list: RegionList): RegionList => fixedCut(list, { gainDb: -6, kinds: REGION_KINDS });

type Detection = Omit<DetectionOptions, 'sampleRateHz'>;

function inOnePiece(
  channels: readonly Samples[],
  sampleRateHz: number,
  detection: Detection = {},
): readonly Samples[] {
  const found = detectConsonants(channels, { ...detection, sampleRateHz });
  return renderGain(channels, cutAll(placeEdges(found, channels)));
}

function inBlocks(
  channels: readonly Samples[],
  sampleRateHz: number,
  lengths: readonly number[],
  detection: Detection = {},
): { readonly joined: readonly Samples[]; readonly most: StreamTamer['most'] } {
  const channelCount = channels.length;
  const tamer = createStreamTamer({ sampleRateHz, channelCount, decide: cutAll, detection });
  const ready = blocksOf(channels, lengths).map((block) => tamer.push(block));
  ready.push(tamer.flush());
  const joined = channels.map((channel, c) => {
    const whole = new Float32Array(channel.length);
    let at = 0;
    for (const part of ready) {
      whole.set(part[c] as Samples, at);
      at += (part[c] as Samples).length;
    }
    expect(at, 'samples that came out').toBe(channel.length);
    return whole;
  });
  return { joined, most: tamer.most };
}

function expectSame(streamed: readonly Samples[], whole: readonly Samples[]): void {
  for (const [c, channel] of streamed.entries())
    expect(channel.findIndex((value, i) => !Object.is(value, whole[c]?.[i]))).toBe(-1);
}

describe('the stream tamer', () => {
  const rate = 16_000;
  const lead = demoLead(rate).samples;

  it('gives the samples of the whole clip, to the bit, however the recording is cut', () => {
    const whole = inOnePiece([lead], rate);
    // Something must have been cut, or the comparison says nothing.
    expect(whole[0]?.some((value, i) => value !== lead[i])).toBe(true);
    for (const lengths of [[lead.length], [4096], [1, 37, 0, 5000, 70_000]])
      expectSame(inBlocks([lead], rate, lengths).joined, whole);
  });

  it('does so for two channels', () => {
    const channels = [lead, lead.map((value, i) => 0.5 * value + 1e-3 * Math.sin(i))];
    expectSame(inBlocks(channels, rate, [3000]).joined, inOnePiece(channels, rate));
  });

  it('does so at the detector’s limits: noise without end, and the longest look ahead', () => {
    // Every frame is called a sibilant, with as much context as a classifier may ask for: regions of 4 s that touch.
    const detection = { classifier: constant(ALL_SIBILANT, 400) };
    // It swells and sinks: what never rises over its own floor is no consonant, whatever the classifier says.
    const samples = whiteNoise(5, 30 * rate, 0.05).map(
      (value, i) => value * (1 + 0.8 * Math.sin((2 * Math.PI * i) / (8 * rate))),
    );
    const { regions } = detectConsonants(samples, { sampleRateHz: rate, ...detection });
    expect(Math.max(...regions.map((r) => r.endSample - r.startSample))).toBeGreaterThan(3.9 * rate);
    const whole = inOnePiece([samples], rate, detection);
    for (const lengths of [[2000], [rate]])
      expectSame(inBlocks([samples], rate, lengths, detection).joined, whole);
  });

  it('does so where long noises have vowels and gaps between them', () => {
    const hiss = filterSamples(
      whiteNoise(7, 9 * rate, 0.05),
      highPass({ sampleRateHz: rate, frequencyHz: 4000 }),
    );
    hiss.fill(0, 4 * rate, 4.02 * rate);
    const samples = new Float32Array(lead.length + hiss.length);
    samples.set(lead.subarray(0, 1.2 * rate));
    samples.set(hiss, 1.2 * rate);
    samples.set(lead.subarray(1.2 * rate), 1.2 * rate + hiss.length);
    const { regions } = detectConsonants(samples, { sampleRateHz: rate });
    expect(Math.max(...regions.map((r) => r.endSample - r.startSample))).toBeGreaterThan(rate);
    expectSame(inBlocks([samples], rate, [2000]).joined, inOnePiece([samples], rate));
  });

  it('gives nothing before its delay, which is the detector’s and a quarter of a second', () => {
    const tamer = createStreamTamer({ sampleRateHz: rate, channelCount: 1, decide: cutAll });
    expect(tamer.delaySamples).toBe((DETECTION_LATENCY_SECONDS + 0.25) * rate);
    expect(tamer.push([new Float32Array(tamer.delaySamples)])[0]).toHaveLength(0);
    expect(tamer.push([new Float32Array(10)])[0]).toHaveLength(10);
    expect(tamer.flush()[0]).toHaveLength(tamer.delaySamples);
  });

  it('holds no more of four times the audio', () => {
    const once = inBlocks([lead], rate, [4096]).most;
    const long = new Float32Array(4 * lead.length);
    for (let k = 0; k < 4; k++) long.set(lead, k * lead.length);
    const fourTimes = inBlocks([long], rate, [4096]).most;
    expect(fourTimes.bytes).toBe(once.bytes);
    // Delay, what is kept behind, and a block with its second of room: 10.25 + 5 + 1 s and 4096 samples.
    expect(fourTimes.bytes).toBeLessThanOrEqual(4 * (16.25 * rate + 4096));
    expect(fourTimes.regions).toBeLessThan(2 * once.regions);
  });

  it('passes an empty recording', () => {
    const tamer = createStreamTamer({ sampleRateHz: rate, channelCount: 2, decide: cutAll });
    expect(tamer.flush().map((channel) => channel.length)).toEqual([0, 0]);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type BandGainRenderer, createBandGainRenderer } from '../../src/gain/band-gain-renderer.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { createGainRenderer, renderGainBlockInto } from '../../src/gain/render-gain-block.js';
import type { RegionBand, RegionList } from '../../src/regions/region.js';
import { whiteNoise } from '../lib/random.js';
import { anyList, bits, listOf, region } from './lists.js';

const HIGH: RegionBand = { lowHz: 4000, highHz: 24000 };
const LOW: RegionBand = { lowHz: 0, highHz: 900 };
const list = listOf(
  4000,
  region({ startSample: 0, endSample: 700, band: HIGH, fadeInSamples: 40 }),
  region({ startSample: 700, endSample: 900, gainDb: -12 }),
  region({ startSample: 900, endSample: 3100, band: LOW, fadeOutSamples: 100 }),
  region({ startSample: 3100, endSample: 4000, band: HIGH, gainDb: -3 }),
);

/** Pushes channels in blocks of the given lengths, and silence until the end has come out; gives what belongs to the clip. */
function throughBlocks(
  renderer: BandGainRenderer,
  channels: readonly Float32Array[],
  lengths: readonly number[],
): number[][] {
  const total = channels[0]!.length + renderer.latencySamples;
  const input = channels.map((channel) => {
    const longer = new Float32Array(total);
    longer.set(channel);
    return longer;
  });
  const output = channels.map(() => new Float32Array(total));
  for (let at = 0, k = 0; at < total; k++) {
    const end = Math.min(at + (lengths[k % lengths.length] as number), total);
    expect(renderer.positionSample).toBe(at);
    renderer.pushInto(
      output.map((channel) => channel.subarray(at, end)),
      input.map((channel) => channel.subarray(at, end)),
    );
    at = end;
  }
  for (const channel of output)
    expect(channel.subarray(0, renderer.latencySamples).every((x) => x === 0)).toBe(true);
  return output.map((channel) => bits(channel.subarray(renderer.latencySamples)));
}

/** Any list in which two of three regions have a band. */
const bandedLists: fc.Arbitrary<RegionList> = anyList().map((plain) => ({
  ...plain,
  regions: plain.regions.map((r, i) => (i % 3 === 0 ? r : { ...r, band: i % 3 === 1 ? HIGH : LOW })),
}));

describe('createBandGainRenderer', () => {
  test('gives the bits of the whole clip, however it is cut into blocks, as late as it says', () => {
    const left = whiteNoise(1, 4000);
    const right = whiteNoise(2, 4000);
    const whole = renderGain([left, right], list).map(bits);
    for (const lengths of [[1], [64], [128, 1, 500], [777], [5000], [3, 1024]])
      expect(throughBlocks(createBandGainRenderer(list), [left, right], lengths)).toEqual(whole);
  });

  test('does so for any list, plain regions and bands that touch among them', () => {
    fc.assert(
      fc.property(
        bandedLists,
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1, maxLength: 9 }),
        fc.nat(1e6),
        (any, lengths, seed) => {
          const samples = whiteNoise(seed, any.lengthSamples);
          expect(throughBlocks(createBandGainRenderer(any), [samples], lengths)).toEqual([
            bits(renderGain(samples, any)),
          ]);
        },
      ),
      { numRuns: 150 },
    );
  });

  test('works in place', () => {
    const samples = whiteNoise(3, 4000);
    const whole = bits(renderGain(samples, list));
    const renderer = createBandGainRenderer(list);
    const { latencySamples } = renderer;
    const stream = new Float32Array(4000 + latencySamples);
    stream.set(samples);
    for (let at = 0; at < stream.length; at += 256) {
      const block = stream.subarray(at, at + 256);
      renderer.pushInto(block, block);
    }
    expect(bits(stream.subarray(latencySamples))).toEqual(whole);
  });

  test('states the least latency that its longest look ahead allows', () => {
    expect(
      createBandGainRenderer(listOf(4000, region({ startSample: 0, endSample: 4000 }))).latencySamples,
    ).toBe(0);
    // One sample, and half a kernel of 3.2058·48000/1000 = 153.9 samples after it.
    const one = listOf(4000, region({ startSample: 9, endSample: 10, band: HIGH }));
    expect(createBandGainRenderer(one).latencySamples).toBe(154);
    const off = listOf(4000, region({ startSample: 9, endSample: 10, band: HIGH, bypassed: true }));
    expect(createBandGainRenderer(off).latencySamples).toBe(0);
    // An hour-long region is filtered in blocks, so it takes no hour: at most eight kernels.
    const long = listOf(48000 * 3600, region({ startSample: 0, endSample: 48000 * 3600, band: HIGH }));
    expect(createBandGainRenderer(long).latencySamples).toBeLessThan(8 * 309);
  });

  test('after a seek has the bits of the whole clip from the latency on, and something near before', () => {
    const samples = whiteNoise(4, 4000);
    const whole = renderGain(samples, list);
    const renderer = createBandGainRenderer(list);
    const { latencySamples } = renderer;
    const block = new Float32Array(500);
    renderer.pushInto(block, samples.subarray(0, 500));
    renderer.seek(300);
    const input = new Float32Array(3700 + latencySamples);
    input.set(samples.subarray(300));
    const output = new Float32Array(input.length);
    for (let at = 0; at < input.length; at += 100)
      renderer.pushInto(output.subarray(at, at + 100), input.subarray(at, at + 100));
    expect(output.subarray(0, latencySamples).every((x) => x === 0)).toBe(true);
    const heard = output.subarray(latencySamples);
    const exactFrom = latencySamples;
    expect(bits(heard.subarray(exactFrom))).toEqual(bits(whole.subarray(300 + exactFrom)));
    // A kernel after the seek, nothing of what is missing is left but rounding: one step of a float below 1.
    for (let i = 154; i < exactFrom; i++)
      expect(Math.abs((heard[i] as number) - (whole[300 + i] as number))).toBeLessThanOrEqual(2 ** -24);
  });

  test('remembers nothing of what came before a seek, and may take another number of channels after it', () => {
    const renderer = createBandGainRenderer(list);
    const first = new Float32Array(3000);
    renderer.pushInto(first, whiteNoise(8, 3000));
    // To within the block that was filtered last.
    renderer.seek(0);
    const samples = [whiteNoise(9, 4000), whiteNoise(10, 4000)];
    expect(throughBlocks(renderer, samples, [64])).toEqual(renderGain(samples, list).map(bits));
    const short = listOf(300, region({ startSample: 0, endSample: 300, band: HIGH }));
    const again = createBandGainRenderer(short);
    throughBlocks(again, [whiteNoise(8, 300)], [50]);
    again.seek(0);
    expect(throughBlocks(again, [samples[0]!.slice(0, 300)], [50])).toEqual([
      bits(renderGain(samples[0]!.slice(0, 300), short)),
    ]);
  });

  test('starts in the middle of a clip as after a seek', () => {
    const samples = whiteNoise(5, 4000);
    const seeking = createBandGainRenderer(list);
    seeking.seek(1000);
    const starting = createBandGainRenderer(list, { startSample: 1000 });
    const a = new Float32Array(3000);
    const b = new Float32Array(3000);
    seeking.pushInto(a, samples.subarray(1000));
    starting.pushInto(b, samples.subarray(1000));
    expect(bits(a)).toEqual(bits(b));
    expect(starting.positionSample).toBe(4000);
  });

  test('refuses samples that a filter would read, at their index in the block, and does not move on', () => {
    const quiet = listOf(4000, region({ startSample: 2000, endSample: 2100, band: HIGH }));
    const renderer = createBandGainRenderer(quiet, { startSample: 1800 });
    const block = new Float32Array(100);
    block[46] = Number.NaN;
    expect(() => renderer.pushInto(new Float32Array(100), block)).toThrow(
      /pushInto: samples\[46\] must be finite/,
    );
    expect(renderer.positionSample).toBe(1800);
    block[46] = 0;
    block[45] = Number.NaN;
    renderer.pushInto(new Float32Array(100), block);
    expect(renderer.positionSample).toBe(1900);
  });

  test('refuses shapes that differ, another number of channels and bad positions', () => {
    const renderer = createBandGainRenderer(list);
    const two = [new Float32Array(10), new Float32Array(10)];
    expect(() => renderer.pushInto(new Float32Array(9), new Float32Array(10))).toThrow(RangeError);
    expect(() => renderer.pushInto(new Float32Array(10), [1, 2] as never)).toThrow(TypeError);
    renderer.pushInto(two, two);
    expect(() => renderer.pushInto(new Float32Array(10), new Float32Array(10))).toThrow(
      /must stay 2 channels/,
    );
    expect(() => renderer.seek(-1)).toThrow(RangeError);
    expect(() => createBandGainRenderer(list, { startSample: 0.5 })).toThrow(RangeError);
    expect(() => createBandGainRenderer({ ...list, nextId: 1 })).toThrow(RangeError);
    renderer.seek(0);
    renderer.pushInto(new Float32Array(10), new Float32Array(10));
  });
});

describe('the renderers without latency', () => {
  const quiet = listOf(
    4000,
    region({ startSample: 100, endSample: 200 }),
    region({ startSample: 2000, endSample: 2100, band: HIGH }),
  );

  test('refuse a region with a band and name the renderer that takes it', () => {
    expect(() => createGainRenderer(quiet)).toThrow(
      /createGainRenderer: list\.regions\[1\] must not have a band.*createBandGainRenderer/,
    );
    const block = new Float32Array(128);
    expect(() => renderGainBlockInto(block, block, quiet, { startSample: 1990 })).toThrow(
      /renderGainBlockInto: list\.regions\[1\]/,
    );
  });

  test('pass a block without one, and a band that is bypassed or at 0 dB', () => {
    const samples = whiteNoise(6, 4000);
    const out = new Float32Array(1900);
    renderGainBlockInto(out, samples.subarray(0, 1900), quiet, { startSample: 0 });
    expect(bits(out)).toEqual(bits(renderGain(samples, quiet).subarray(0, 1900)));
    for (const change of [{ bypassed: true }, { gainDb: 0 }]) {
      const [first, second] = quiet.regions;
      const off = { ...quiet, regions: [first!, { ...second!, ...change }] };
      const block = samples.slice();
      createGainRenderer(off).pushInto(block, block);
      expect(bits(block)).toEqual(bits(renderGain(samples, off)));
    }
  });
});

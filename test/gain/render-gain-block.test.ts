import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { renderGain } from '../../src/gain/render-gain.js';
import { createGainRenderer, renderGainBlockInto } from '../../src/gain/render-gain-block.js';
import { anyList, bits, listOf, noise, region } from './lists.js';

const cuts = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 40 });

describe('rendering in blocks', () => {
  it('gives the bits of the whole clip, however it is cut and in whatever order', () => {
    fc.assert(
      fc.property(anyList(), cuts, fc.nat(1e6), (list, sizes, seed) => {
        const left = noise(list.lengthSamples, seed);
        const right = noise(list.lengthSamples, seed + 1);
        const whole = renderGain([left, right], list).map(bits);
        const out = [new Float32Array(left.length), new Float32Array(left.length)];
        const starts: [number, number][] = [];
        for (let at = 0, k = 0; at < left.length; k++) {
          const size = Math.max(sizes[k % sizes.length] as number, k % 7 === 6 ? 1 : 0);
          starts.push([at, Math.min(at + size, left.length)]);
          at += size;
        }
        for (const [start, end] of starts.reverse()) {
          const block = [left.subarray(start, end), right.subarray(start, end)];
          const target = out.map((channel) => channel.subarray(start, end));
          renderGainBlockInto(target, block, list, { startSample: start });
        }
        expect(out.map(bits)).toEqual(whole);
      }),
    );
  });

  it('gives the same through a renderer that moves on by itself, in place', () => {
    fc.assert(
      fc.property(anyList(), fc.integer({ min: 1, max: 50 }), (list, size) => {
        const samples = noise(list.lengthSamples);
        const whole = bits(renderGain(samples, list));
        const renderer = createGainRenderer(list);
        for (let at = 0; at < samples.length; at += size) {
          expect(renderer.positionSample).toBe(at);
          const block = samples.subarray(at, at + size);
          renderer.pushInto(block, block);
        }
        expect(bits(samples)).toEqual(whole);
      }),
    );
  });

  const list = listOf(100, region({ startSample: 10, endSample: 90, fadeInSamples: 10 }));

  it('starts and goes on anywhere', () => {
    const samples = noise(100);
    const whole = renderGain(samples, list);
    const renderer = createGainRenderer(list, { startSample: 15 });
    const out = new Float32Array(10);
    renderer.pushInto(out, samples.subarray(15, 25));
    expect(bits(out)).toEqual(bits(whole.slice(15, 25)));
    renderer.seek(12);
    renderer.pushInto(out, samples.subarray(12, 22));
    expect(bits(out)).toEqual(bits(whole.slice(12, 22)));
    expect(renderer.positionSample).toBe(22);
  });

  it('lets the last block hang over the end of the clip', () => {
    const block = noise(30);
    const out = new Float32Array(30);
    renderGainBlockInto(out, block, list, { startSample: 80 });
    expect(bits(out.slice(10))).toEqual(bits(block.slice(10)));
    expect(out[9]).toBe(Math.fround(10 ** (-6 / 20) * (block[9] as number)));
  });

  it('names the index in the block of a sample that it refuses, and stays where it was', () => {
    const block = noise(20);
    block[3] = Number.NaN;
    const renderer = createGainRenderer(list, { startSample: 20 });
    expect(() => renderer.pushInto(block, block)).toThrow(/^pushInto: .*samples\[3\] must be finite/);
    expect(() => renderer.pushInto('x' as never, noise(4))).toThrow(/^pushInto: out must be/);
    expect(() => renderer.pushInto(noise(4), 'x' as never)).toThrow(/^pushInto: block must be/);
    expect(renderer.positionSample).toBe(20);
  });

  it('refuses positions that are no sample, shapes that differ and lists that break the rules', () => {
    const block = noise(4);
    expect(() => renderGainBlockInto(block, block, list, { startSample: -1 })).toThrow(/startSample/);
    expect(() => renderGainBlockInto(block, 'x' as never, list, { startSample: 0 })).toThrow(
      /^renderGainBlockInto: block must be/,
    );
    expect(() => renderGainBlockInto(block, block, list, { startSample: 0.5 })).toThrow(RangeError);
    expect(() => renderGainBlockInto(new Float32Array(3), block, list, { startSample: 0 })).toThrow(
      /as long/,
    );
    expect(() => createGainRenderer(list).seek(-1)).toThrow(RangeError);
    expect(() => createGainRenderer(listOf(50, region({ startSample: 10, endSample: 90 })))).toThrow(
      RangeError,
    );
  });
});

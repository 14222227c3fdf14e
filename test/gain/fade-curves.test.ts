import { describe, expect, it } from 'vitest';
import { createFadeCurves } from '../../src/gain/fade-curves.js';
import { fadeGain } from '../../src/gain/fade-gain.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { FADE_SHAPES } from '../../src/regions/region.js';

describe('the fades that a rendering holds', () => {
  it('are those asked for, in length, gains and shape, however often others come between', () => {
    const curves = createFadeCurves();
    const asked = [3, 4].flatMap((n) =>
      [0.5, 0.25].flatMap((to) => FADE_SHAPES.map((shape) => ({ n, from: 1, to, shape }))),
    );
    // Twice forwards and once backwards: more of them than are held.
    for (const { n, from, to, shape } of [...asked, ...asked, ...[...asked].reverse()]) {
      const expected = Array.from({ length: n }, (_, i) => fadeGain(i, n, from, to, shape));
      expect([...(curves(n, from, to, shape) ?? [])]).toEqual(expected);
      expect([...(curves(n, to, from, shape) ?? [])]).toEqual(
        expected.map((_, i) => fadeGain(i, n, to, from, shape)),
      );
    }
  });

  it('are worked out once while nothing else is asked for, and not held where they are long', () => {
    const curves = createFadeCurves();
    expect(curves(480, 1, 0.5, 'linear')).toBe(curves(480, 1, 0.5, 'linear'));
    expect(curves(65_536, 1, 0.5, 'linear')).toHaveLength(65_536);
    expect(curves(65_537, 1, 0.5, 'linear')).toBeNull();
  });

  it('lie where gainAt has them, sample by sample, in one channel and in two', () => {
    // Lengths that come again after other ones, fades of no length, one that fills its region, one that is too long to be held.
    const fades = [480, 96, 480, 0, 7, 96, 480, 1000, 33, 480];
    const drafts = fades.map((fade, i) => ({
      kind: 'sibilant' as const,
      startSample: 100 + 2500 * i,
      endSample: 100 + 2500 * i + 2 * fade + (i % 3 === 0 ? 0 : 300) + (fade === 0 ? 1 : 0),
      gainDb: [-6, -3, 4][i % 3] as number,
      fadeInSamples: fade,
      fadeOutSamples: fade,
      fadeShape: FADE_SHAPES[i % 2] as (typeof FADE_SHAPES)[number],
    }));
    const long = {
      kind: 'breath' as const,
      startSample: 30_000,
      endSample: 170_000,
      gainDb: -9,
      fadeInSamples: 66_000,
    };
    const empty = createRegionList({ sampleRateHz: 48_000, lengthSamples: 180_000 });
    const list = insertRegions(empty, [...drafts, { ...long, fadeOutSamples: 70_000 }]);
    const samples = Float32Array.from({ length: 180_000 }, (_, i) => Math.sin(i / 7) - 0.1);
    const expected = samples.map((x, i) => x * gainAt(list, i));
    expect(renderGain(samples, list)).toEqual(expected);
    expect(renderGain([samples, samples], list)).toEqual([expected, expected]);
  });
});

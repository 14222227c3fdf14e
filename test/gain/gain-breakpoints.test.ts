import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fadeGain } from '../../src/gain/fade-gain.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { type GainBreakpoint, gainBreakpoints } from '../../src/gain/gain-breakpoints.js';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import type { RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from './lists.js';

/** Plays an envelope as its documentation says: the last point at or before a sample, towards the next one. */
function play(points: readonly GainBreakpoint[], sample: number): number {
  const k = points.filter((p) => p.sample <= sample).length - 1;
  const from = points[k] as GainBreakpoint;
  const to = points[k + 1] as GainBreakpoint;
  const [g0, g1] = [10 ** (from.gainDb / 20), 10 ** (to.gainDb / 20)];
  return fadeGain(sample - from.sample, to.sample - from.sample, g0, g1, from.shape);
}

describe('gainBreakpoints', () => {
  it('says, played point by point, what the renderer multiplies by, to the last bit of a double', () => {
    fc.assert(
      fc.property(anyList(), (list) => {
        const points = gainBreakpoints(list);
        const curve = new Float64Array(list.lengthSamples);
        gainCurveInto(curve, list, 0);
        for (let i = 0; i < list.lengthSamples; i++) {
          expect(play(points, i)).toBe(gainAt(list, i));
          expect(curve[i]).toBe(gainAt(list, i));
        }
      }),
    );
  });

  it('covers the clip from 0 to its length in time order, starts and ends at 0 dB, and says nothing twice', () => {
    fc.assert(
      fc.property(anyList(), (list) => {
        const points = gainBreakpoints(list);
        expect(points[0]?.sample).toBe(0);
        expect(points.at(-1)).toEqual({ sample: list.lengthSamples, gainDb: 0, shape: 'linear' });
        for (let k = 1; k < points.length; k++) {
          const [a, b] = [points[k - 1] as GainBreakpoint, points[k] as GainBreakpoint];
          expect(b.sample).toBeGreaterThanOrEqual(a.sample);
          expect(a.sample === b.sample && a.gainDb === b.gainDb).toBe(false);
          // A step has two points; a third at the same sample would be a spike in a picture.
          expect(points[k + 1]?.sample === a.sample).toBe(false);
        }
        expect(points.length).toBeLessThanOrEqual(4 * list.regions.length + 2);
      }),
    );
  });

  it('gives the corners of one faded region', () => {
    const list = listOf(
      100,
      region({ startSample: 10, endSample: 50, fadeInSamples: 5, fadeOutSamples: 8, fadeShape: 'decibel' }),
    );
    expect(gainBreakpoints(list).map((p) => [p.sample, p.gainDb, p.shape])).toEqual([
      [0, 0, 'linear'],
      [10, 0, 'decibel'],
      [15, -6, 'decibel'],
      [42, -6, 'decibel'],
      [50, 0, 'linear'],
      [100, 0, 'linear'],
    ]);
  });

  it('goes from gain to gain where regions touch, with no point for a fade that is not used', () => {
    const first = region({ startSample: 10, endSample: 20, fadeOutSamples: 4 });
    const second = region({ startSample: 20, endSample: 30, gainDb: -12 });
    const corners = (list: RegionList) => gainBreakpoints(list).map((p) => [p.sample, p.gainDb]);
    const [head, tail] = [
      [
        [0, 0],
        [10, 0],
        [10, -6],
      ],
      [
        [30, -12],
        [30, 0],
        [40, 0],
      ],
    ];
    expect(corners(listOf(40, first, second))).toEqual([...head, [16, -6], [20, -12], ...tail]);
    expect(corners(listOf(40, first, { ...second, fadeInSamples: 5 }))).toEqual([
      ...head,
      [20, -6],
      [25, -12],
      ...tail,
    ]);
  });

  it('is two points for a clip without active regions and one for an empty clip', () => {
    const idle = listOf(9, region({ startSample: 0, endSample: 9, bypassed: true }));
    expect(gainBreakpoints(idle).map((p) => p.sample)).toEqual([0, 9]);
    expect(gainBreakpoints(listOf(0))).toHaveLength(1);
  });
});

describe('gainAt', () => {
  it('refuses positions outside the clip', () => {
    const list = listOf(9, region({ startSample: 0, endSample: 9 }));
    expect(() => gainAt(list, 9)).toThrow(RangeError);
    expect(() => gainAt(list, -1)).toThrow(RangeError);
    expect(() => gainAt(list, 0.5)).toThrow(RangeError);
  });
});

describe('gainCurveInto', () => {
  const list = listOf(100, region({ startSample: 10, endSample: 90, fadeInSamples: 20, fadeOutSamples: 30 }));

  it('fills any stretch of the clip, whatever it held', () => {
    fc.assert(
      fc.property(fc.nat(100), fc.nat(100), (a, b) => {
        const [start, end] = [Math.min(a, b), Math.max(a, b)];
        const curve = new Float64Array(end - start).fill(9);
        gainCurveInto(curve, list, start);
        curve.forEach((gain, i) => {
          expect(gain).toBe(gainAt(list, start + i));
        });
      }),
    );
  });

  it('refuses stretches that leave the clip and other arrays', () => {
    expect(() => gainCurveInto(new Float64Array(2), list, 99)).toThrow(/must end inside the clip/);
    expect(() => gainCurveInto(new Float64Array(2), list, -1)).toThrow(RangeError);
    expect(() => gainCurveInto(new Float32Array(2) as unknown as Float64Array<ArrayBuffer>, list, 0)).toThrow(
      TypeError,
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gainToAudioParamEvents } from '../../src/exchange/gain-to-audio-param-events.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainAtDepth } from '../../src/gain/gain-at-depth.js';
import { FADE_SHAPES, type RegionList } from '../../src/regions/region.js';
import { listOf, region } from '../gain/lists.js';
import { evenly, fadedLists } from '../lib/faded-lists.js';
import { everyShape, greatestGain } from './audio-param-clips.js';
import { AudioParamOracle, schedule } from './audio-param-oracle.js';

/** More ramps than any fade here has samples: raised cosines are exact. */
const EXACT = { rampsPerFade: 65536 };

/**
 * What may part the formulas from gainAt: each value is rounded to a 32-bit float, by 2^-24 of it at most, and a mean of such values is off
 * by no more; each time is a double, off by two roundings of at most 2^-53 of the latest, which moves a fade by that many samples; and in a
 * sample no fade here moves by more than 17 times its greatest gain (an exponential from 24 to −120 dB: ln 15.8e6 = 16.6).
 */
function tolerance(list: RegionList, latestSeconds: number): number {
  return greatestGain(list) * (2 ** -24 + 17 * list.sampleRateHz * latestSeconds * 2 ** -51);
}

function methods(list: RegionList, options = {}): unknown[][] {
  return gainToAudioParamEvents(list, options).events.map(({ method, args }) => [
    method.replace('ToValueAtTime', ''),
    Number(args[0].toFixed(6)),
    // In samples of a clip that starts at 0.
    Number((args[1] * list.sampleRateHz).toFixed(6)),
  ]);
}

describe('the oracle', () => {
  const ramp = (method: 'linearRampToValueAtTime' | 'exponentialRampToValueAtTime') =>
    schedule(new AudioParamOracle(), [
      { method: 'setValueAtTime', args: [1, 2] },
      { method, args: [0.5, 6] },
    ]);

  it('gives the values of the two ramps at a quarter, a half and three quarters', () => {
    // 1 → 0.5: 0.5^x and 1 − x/2, of the formulas of exponentialRampToValueAtTime and linearRampToValueAtTime (computed from published figures).
    const at = (param: AudioParamOracle) =>
      [1.9, 2, 3, 4, 5, 6, 7].map((t) => param.valueAt(t).toFixed(6)).join(' ');
    expect(at(ramp('exponentialRampToValueAtTime'))).toBe(
      '1.000000 1.000000 0.840896 0.707107 0.594604 0.500000 0.500000',
    );
    expect(at(ramp('linearRampToValueAtTime'))).toBe(
      '1.000000 1.000000 0.875000 0.750000 0.625000 0.500000 0.500000',
    );
  });

  it('refuses what the standard refuses and keeps events of one time in the order of the calls', () => {
    const param = new AudioParamOracle();
    expect(() => param.setValueAtTime(1, -1e-9)).toThrow(RangeError);
    expect(() => param.linearRampToValueAtTime(1, Number.NaN)).toThrow(RangeError);
    expect(() => param.exponentialRampToValueAtTime(0, 1)).toThrow(RangeError);
    param.setValueAtTime(1, 1);
    param.setValueAtTime(2, 1);
    param.setValueAtTime(3, 0);
    expect(param.timeline.map(({ value }) => value)).toEqual([3, 1, 2]);
  });
});

describe('gainToAudioParamEvents', () => {
  it('gives gainAt at every sample, from any sample on and at any start, within the rounding of 32-bit values', () => {
    fc.assert(
      fc.property(
        fadedLists(),
        evenly(0, 1),
        fc.oneof(fc.constant(0), evenly(0, 3600)),
        (list, part, startTimeSeconds) => {
          const offsetSample = Math.floor(part * list.lengthSamples);
          const options = { startTimeSeconds, offsetSample, ...EXACT };
          const param = schedule(new AudioParamOracle(), gainToAudioParamEvents(list, options).events);
          const timeOf = (s: number): number => startTimeSeconds + (s - offsetSample) / list.sampleRateHz;
          let worst = 0;
          for (let s = offsetSample; s < list.lengthSamples; s++)
            worst = Math.max(worst, Math.abs(param.valueAt(timeOf(s)) - gainAt(list, s)));
          expect(worst).toBeLessThanOrEqual(tolerance(list, timeOf(list.lengthSamples)));
          expect(param.valueAt(timeOf(list.lengthSamples))).toBeCloseTo(1, 6);
        },
      ),
    );
  });

  it('keeps the rules of the standard: times in order and not negative, values above 0, nothing twice', () => {
    fc.assert(
      fc.property(fadedLists(), evenly(0, 1), fc.nat(10), (list, part, start) => {
        const offsetSample = Math.floor(part * list.lengthSamples);
        const { events } = gainToAudioParamEvents(list, { startTimeSeconds: start / 1e5, offsetSample });
        events.forEach(({ method, args: [value, time] }, i) => {
          expect(Number.isFinite(time) && time >= 0).toBe(true);
          expect(Math.fround(value)).toBeGreaterThan(0);
          const last = events[i - 1];
          if (last === undefined) return;
          expect(time).toBeGreaterThanOrEqual(last.args[1]);
          // Older browsers let the second of two equal calls at one time replace the first (from memory).
          expect(method === last.method && time === last.args[1]).toBe(false);
        });
      }),
    );
  });

  it('writes each fade shape as its ramp, and a step half a sample early', () => {
    const one = (fadeShape: 'linear' | 'decibel') =>
      listOf(48000, region({ startSample: 100, endSample: 300, gainDb: -20, fadeInSamples: 50, fadeShape }));
    for (const [shape, name] of [
      ['linear', 'linearRamp'],
      ['decibel', 'exponentialRamp'],
    ] as const)
      expect(methods(one(shape))).toEqual([
        ['setValueAtTime', 1, 0],
        ['setValueAtTime', 1, 100],
        [name, 0.1, 150],
        ['setValueAtTime', 1, 299.5],
      ]);
  });

  it('ends a fade that a step cuts off with its last sample', () => {
    // A fade from 1 to 0.1 over 4 samples and a step back: the fade's last sample has 1 − 0.9 · 3/4.
    const list = listOf(100, region({ startSample: 10, endSample: 14, gainDb: -20, fadeInSamples: 4 }));
    expect(methods(list)).toEqual([
      ['setValueAtTime', 1, 0],
      ['setValueAtTime', 1, 10],
      ['linearRamp', 0.325, 13],
      ['setValueAtTime', 1, 13.5],
    ]);
    // A fade of one sample has the gain before it in that sample: there is nothing to write but the way back, which is none.
    expect(methods(listOf(100, region({ startSample: 10, endSample: 11, fadeInSamples: 1 })))).toEqual([
      ['setValueAtTime', 1, 0],
      ['setValueAtTime', 1, 10.5],
    ]);
  });

  it('goes from gain to gain where regions touch', () => {
    const list = listOf(
      100,
      region({ startSample: 10, endSample: 20, gainDb: -20 }),
      region({ startSample: 20, endSample: 40, gainDb: -40, fadeInSamples: 5, fadeOutSamples: 10 }),
    );
    expect(methods(list)).toEqual([
      ['setValueAtTime', 1, 0],
      ['setValueAtTime', 0.1, 9.5],
      ['setValueAtTime', 0.1, 20],
      ['linearRamp', 0.01, 25],
      ['setValueAtTime', 0.01, 30],
      ['linearRamp', 1, 40],
    ]);
  });

  it('begins within a fade with the gain that the fade has there, whatever its shape', () => {
    // Half way from 1 to 0.01: the mean, the mean again, and −20 dB.
    for (const [fadeShape, half] of [
      ['linear', 0.505],
      ['raisedCosine', 0.505],
      ['decibel', 0.1],
    ] as const) {
      const list = listOf(
        48000,
        region({ startSample: 1000, endSample: 9000, gainDb: -40, fadeInSamples: 2000, fadeShape }),
      );
      const { events } = gainToAudioParamEvents(list, { startTimeSeconds: 7, offsetSample: 2000 });
      const param = schedule(new AudioParamOracle(), events);
      // 1e-7: the rounding of values to 32-bit floats, 2^-24 of them.
      expect(Math.abs(param.valueAt(7) - half)).toBeLessThan(1e-7);
      expect(Math.abs(param.valueAt(7 + 1000 / 48000) - 0.01)).toBeLessThan(1e-7);
      expect(events[0]?.args[1]).toBeCloseTo(7 - 0.5 / 48000, 12);
    }
  });

  it('keeps the chords of a long raised cosine within π²/16 / ramps² of the step', () => {
    const list = listOf(
      48000,
      region({ startSample: 1000, endSample: 9000, fadeInSamples: 4800, fadeShape: 'raisedCosine' }),
    );
    const step = 1 - 10 ** (-6 / 20);
    const worst = (rampsPerFade?: number): number => {
      const { events } = gainToAudioParamEvents(list, rampsPerFade === undefined ? {} : { rampsPerFade });
      const param = schedule(new AudioParamOracle(), events);
      let most = 0;
      for (let s = 900; s < 6000; s++)
        most = Math.max(most, Math.abs(param.valueAt(s / 48000) - gainAt(list, s)));
      return most / step;
    };
    // The first of four chords rises by (1 − cos π/4)/2 in a quarter; the fade is farthest from it where it is as steep, (π/2) sin πx (computed from published figures).
    const slope = 2 * (1 - Math.cos(Math.PI / 4));
    const x = Math.asin((2 * slope) / Math.PI) / Math.PI;
    // To six digits: the fade is sampled at 4,800 places, and near the farthest the distance is flat.
    expect(worst(4)).toBeCloseTo(slope * x - (1 - Math.cos(Math.PI * x)) / 2, 6);
    expect(worst(4)).toBeLessThan(Math.PI ** 2 / 16 / 4 ** 2);
    expect(worst()).toBeLessThan(Math.PI ** 2 / 16 / 64 ** 2);
    // One ramp a sample: the rounding of values is left, 2^-24 of a gain up to twice the step.
    expect(worst(4800)).toBeLessThan(2 ** -23 + 1e-12);
  });

  it('gives the same gain at the same time to a context at another rate', () => {
    const list = listOf(
      44100,
      region({ startSample: 4410, endSample: 22050, gainDb: -20, fadeInSamples: 4410 }),
    );
    const rate44 = { ...list, sampleRateHz: 44100 };
    const param = schedule(new AudioParamOracle(), gainToAudioParamEvents(rate44).events);
    // From 0.1 s to 0.2 s the gain goes from 1 to 0.1 in a straight line; context samples at 48 kHz.
    let worst = 0;
    for (let j = 4800; j < 9600; j++)
      worst = Math.max(worst, Math.abs(param.valueAt(j / 48000) - (1 - 0.9 * (j / 4800 - 1))));
    // 2^-24 of the gain for the rounding of values, as above.
    expect(worst).toBeLessThan(1e-7);
    expect(param.valueAt(0.3)).toBe(Math.fround(0.1));
    expect(param.valueAt(0.5)).toBe(1);
  });

  it('scales the gains in dB by the depth, as gainAtDepth does', () => {
    const list = everyShape(48000);
    expect(gainToAudioParamEvents(list, { depth: 2 })).toEqual(
      gainToAudioParamEvents(gainAtDepth(list, { depth: 2 })),
    );
    expect(methods(list, { depth: 0 })).toEqual([['setValueAtTime', 1, 0]]);
  });

  it('names the regions with a band that are still to come and change the audio', () => {
    const band = { lowHz: 4000, highHz: 24000 };
    const list = listOf(
      500,
      region({ startSample: 0, endSample: 100, band }),
      region({ startSample: 100, endSample: 200, gainDb: -20 }),
      region({ startSample: 200, endSample: 300, band, bypassed: true }),
      region({ startSample: 300, endSample: 400, band }),
    );
    expect(gainToAudioParamEvents(list).left).toEqual([1, 4]);
    expect(gainToAudioParamEvents(list, { offsetSample: 100 }).left).toEqual([4]);
    expect(methods(list)).toEqual([
      ['setValueAtTime', 1, 0],
      ['setValueAtTime', 0.1, 99.5],
      ['setValueAtTime', 1, 199.5],
    ]);
  });

  it('is one value for a clip without regions, an empty one, and the end of any', () => {
    const one = [{ method: 'setValueAtTime', args: [1, 0] }];
    expect(gainToAudioParamEvents(listOf(9)).events).toEqual(one);
    expect(gainToAudioParamEvents(listOf(0)).events).toEqual(one);
    const cut = listOf(9, region({ startSample: 0, endSample: 9 }));
    expect(gainToAudioParamEvents(cut, { offsetSample: 9 }).events).toEqual(one);
  });

  it('gives plain frozen data, as many events for a shape as stated', () => {
    const schedule64 = gainToAudioParamEvents(everyShape(48000));
    expect(JSON.parse(JSON.stringify(schedule64))).toEqual(schedule64);
    for (const part of [schedule64, schedule64.events, schedule64.left, ...schedule64.events])
      expect(Object.isFrozen(part)).toBe(true);
    expect(schedule64.events.every(({ args }) => Object.isFrozen(args))).toBe(true);
    for (const fadeShape of FADE_SHAPES) {
      const fade = region({
        startSample: 100,
        endSample: 900,
        fadeInSamples: 800,
        fadeOutSamples: 0,
        fadeShape,
      });
      const ramps = (rampsPerFade: number) =>
        methods(listOf(1000, fade), { rampsPerFade }).filter(([name]) => String(name).endsWith('Ramp'))
          .length;
      expect([ramps(1), ramps(50), ramps(5000)]).toEqual(
        // A step follows, so the fade has 799 samples to go.
        fadeShape === 'raisedCosine' ? [1, 50, 799] : [1, 1, 1],
      );
    }
  });

  it('refuses options out of range and broken lists, by name', () => {
    const list = listOf(100, region({ startSample: 10, endSample: 20 }));
    const run = (options: object) => () => gainToAudioParamEvents(list, options);
    expect(run({ startTimeSeconds: -1 })).toThrow(/^gainToAudioParamEvents: startTimeSeconds /);
    expect(run({ startTimeSeconds: Number.NaN })).toThrow(RangeError);
    expect(run({ startTimeSeconds: '1' })).toThrow(TypeError);
    expect(run({ startTimeSeconds: 1e9 })).toThrow(/the end of the clip/);
    expect(run({ offsetSample: 101 })).toThrow(RangeError);
    expect(run({ offsetSample: 0.5 })).toThrow(RangeError);
    expect(run({ depth: -1 })).toThrow(/^gainToAudioParamEvents: depth /);
    expect(run({ rampsPerFade: 0 })).toThrow(RangeError);
    expect(() => gainToAudioParamEvents({ ...list, sampleRateHz: 1 })).toThrow(/list\.sampleRateHz/);
  });
});

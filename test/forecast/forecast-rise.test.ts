import { describe, expect, test } from 'vitest';
import type { Chain } from '../../src/forecast/chain.js';
import { compressionGainAt } from '../../src/forecast/compression-curve.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { forecastRise, type RegionRise } from '../../src/forecast/forecast-rise.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { setGain } from '../../src/regions/set-gain.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { COMPRESSOR, dB, ess, gap, RATE, takeOf, vowel } from './material.js';

const curve = { thresholdDb: -20, ratio: 3 };

function riseOf(parts: Parameters<typeof takeOf>[0], chain: Chain): RegionRise {
  const { samples, list } = takeOf(parts);
  return forecastRise(samples, list, chain).byId.get(1)!;
}

describe('the rise of a steady s beside a steady vowel', () => {
  // Giannoulis, Massberg and Reiss 2012 (curve READ-CODE): rise = gain at the s − gain at the vowel. 0.15 dB: between two peaks of
  // 500 Hz the held reduction of up to 9 dB falls by 2 %, half of that at the mean, and the release leaves 0.4 % behind.
  test('through a compressor is the difference of the static curve', () => {
    for (const [voice, noise] of [
      [0.5, 0.05],
      [0.5, 0.2],
      [0.2, 0.6],
      [0.3, 0.3],
    ] as const) {
      const rise = riseOf([vowel(voice), gap(), ess(noise), gap(), vowel(voice)], { stages: [COMPRESSOR] });
      const expected = compressionGainAt(dB(noise), curve) - compressionGainAt(dB(voice), curve);
      expect(Math.abs(rise.riseDb! - expected)).toBeLessThan(0.15);
      expect(Math.abs(rise.byStage[0]!.noiseChangeDb! - compressionGainAt(dB(noise), curve))).toBeLessThan(
        0.15,
      );
      expect(Math.abs(rise.byStage[0]!.voiceChangeDb! - compressionGainAt(dB(voice), curve))).toBeLessThan(
        0.15,
      );
      expect(Math.abs(rise.beforeDb! - dB(noise / voice))).toBeLessThan(0.02);
    }
  });

  // Audio EQ Cookbook; |H| has its own tests. 0.02 dB: the filter settles within a few of the 400 ms.
  test('through an equaliser is the difference of its response', () => {
    const filters = [
      { kind: 'highShelf', frequencyHz: 4000, gainDb: 5 },
      { kind: 'peaking', frequencyHz: 700, q: 1, gainDb: -3 },
    ] as const;
    const [low, high] = magnitudeResponseDb(filterSections(filters, { sampleRateHz: RATE }), [500, 5701], {
      sampleRateHz: RATE,
    });
    const rise = riseOf([vowel(0.3), gap(), ess(0.1), gap(), vowel(0.3)], {
      stages: [{ kind: 'equaliser', filters }],
    });
    expect(Math.abs(rise.riseDb! - (high! - low!))).toBeLessThan(0.02);
    expect(rise.byStage[0]!.effect).toBe(null);
  });

  // A sine of amplitude a through u − u³/3: harmonics a − a³/4 and a³/12 (computed from published figures). 0.02 dB: onsets of the tones.
  test('through a saturation is the difference of the powers of its harmonics', () => {
    const power = (a: number) => (a - a ** 3 / 4) ** 2 + (a ** 3 / 12) ** 2;
    const change = (a: number) => 10 * Math.log10(power(a) / a ** 2);
    const rise = riseOf([vowel(0.9), gap(), ess(0.2), gap(), vowel(0.9)], {
      stages: [{ kind: 'saturation', curve: 'cubic', driveDb: 0 }],
    });
    expect(Math.abs(rise.riseDb! - (change(0.2) - change(0.9)))).toBeLessThan(0.02);
    expect(rise.riseDb!).toBeGreaterThan(1.5);
  });

  test('adds up over the stages, and make-up raises neither against the other', () => {
    const chain: Chain = {
      stages: [
        { ...COMPRESSOR, makeUpDb: 9 },
        { kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 6000, gainDb: 3 }] },
        { kind: 'saturation', curve: 'tanh', driveDb: 6 },
      ],
    };
    const parts = [vowel(0.5), gap(), ess(0.1), gap(), vowel(0.5)];
    const rise = riseOf(parts, chain);
    const sum = rise.byStage.reduce((total, { riseDb }) => total + riseDb!, 0);
    expect(Math.abs(sum - rise.riseDb!)).toBeLessThan(1e-9);
    expect(Math.abs(rise.afterDb! - rise.beforeDb! - rise.riseDb!)).toBeLessThan(1e-12);
    const flat = riseOf(parts, { stages: [{ ...COMPRESSOR, makeUpDb: 9 }] });
    const none = riseOf(parts, { stages: [COMPRESSOR] });
    // Rounding to 32 bits at another level.
    expect(Math.abs(flat.riseDb! - none.riseDb!)).toBeLessThan(1e-6);
    expect(riseOf(parts, { stages: [] }).riseDb).toBe(0);
  });
});

describe('a compressor that hears the whole band', () => {
  const effectOf = (parts: Parameters<typeof takeOf>[0], stage: Chain['stages'][number]) =>
    riseOf(parts, { stages: [stage] }).byStage[0]!.effect;

  test('lifts an s that lies below what drives the detector', () => {
    expect(effectOf([vowel(0.5), gap(), ess(0.05), gap(), vowel(0.5)], COMPRESSOR)).toBe('lifted');
  });

  test('does not lift an s that drives it itself', () => {
    expect(effectOf([vowel(0.2), gap(), ess(0.6), gap(), vowel(0.2)], COMPRESSOR)).toBe(
      'drives the detector',
    );
  });

  test('does not lift a soft s while it still holds the voice down', () => {
    const slow = { ...COMPRESSOR, releaseSeconds: 10 };
    // A long vowel first, so that the reduction stands before the s; none after it.
    expect(effectOf([vowel(0.5, 2), ess(0.02, 0.1)], slow)).toBe('held by the voice');
  });

  test('leaves alone what is under its threshold', () => {
    expect(effectOf([vowel(0.05), gap(), ess(0.05), gap(), vowel(0.05)], COMPRESSOR)).toBe('untouched');
  });

  test('says all of it in words, counted', () => {
    const parts = [vowel(0.5), gap(), ess(0.05), gap(), vowel(0.5), gap(), ess(0.9), gap(), vowel(0.5)];
    const { samples, list } = takeOf(parts);
    const { stages, medianRiseDb, byId } = forecastRise(samples, list, {
      stages: [{ ...COMPRESSOR, name: 'hold' }],
    });
    expect(stages[0]!.effects).toEqual({
      lifted: 1,
      'drives the detector': 1,
      'held by the voice': 0,
      untouched: 0,
    });
    expect(stages[0]!.statement).toMatch(
      /^1\. compressor "hold": median rise \+\d\.\d dB; it lifts 1, .*; it does not lift 1, since there the sound itself is what drives the detector\.$/,
    );
    const rises = [...byId.values()].map(({ riseDb }) => riseDb!);
    expect(medianRiseDb).toBeCloseTo((rises[0]! + rises[1]!) / 2, 12);
  });
});

describe('what enters the chain', () => {
  const parts = [vowel(0.3), gap(), ess(0.3), gap(), vowel(0.3)];
  const chain: Chain = { stages: [COMPRESSOR] };

  test('has the gains of the list, unless told not to', () => {
    const { samples, list } = takeOf(parts);
    const cut = setGain(list, 1, -12);
    const tamed = forecastRise(samples, cut, chain).byId.get(1)!;
    const raw = forecastRise(samples, list, chain).byId.get(1)!;
    expect(Math.abs(tamed.beforeDb! - (raw.beforeDb! - 12))).toBeLessThan(1e-5);
    // Below the vowel now, so it is lifted: it does not come out 12 dB lower.
    expect(tamed.riseDb!).toBeGreaterThan(raw.riseDb! + 3);
    expect(forecastRise(samples, cut, chain, { applyGains: false }).byId.get(1)).toEqual(raw);
  });

  test('measures as measureLevels does', () => {
    const { samples, list } = takeOf([vowel(0.3), ess(0.1, 0.1), vowel(0.4), gap(0.5), ess(0.2), vowel(0.1)]);
    const levels = measureLevels(samples, list);
    for (const { id, beforeDb } of forecastRise(samples, list, chain).byId.values())
      expect(Math.abs(beforeDb! - levels.byId.get(id)!.sibilanceDb!)).toBeLessThan(1e-9);
  });

  test('may be of several channels, or of chosen regions alone', () => {
    const { samples, list } = takeOf([...parts, gap(), ess(0.1), gap()]);
    const both = forecastRise([samples, samples], list, chain);
    const one = forecastRise(samples, list, chain);
    expect(Math.abs(both.byId.get(1)!.riseDb! - one.byId.get(1)!.riseDb!)).toBeLessThan(1e-9);
    expect([...forecastRise(samples, list, chain, { ids: [2] }).byId.keys()]).toEqual([2]);
    expect(forecastRise(samples, list, chain, { kinds: ['breath'] }).medianRiseDb).toBe(null);
  });

  test('without a voice, or silent, has null for what it has not', () => {
    const { samples, list } = takeOf([gap(), ess(0.1), gap()]);
    const alone = forecastRise(samples, list, chain);
    expect(alone.byId.get(1)).toMatchObject({ beforeDb: null, afterDb: null, riseDb: null });
    expect(alone.stages[0]!.statement).toBe('1. compressor: nothing to compare.');
    const silent = takeOf([vowel(0.3), { ...ess(0), frequencyHz: 5701 }, vowel(0.3)]);
    expect(forecastRise(silent.samples, silent.list, chain).byId.get(1)!.riseDb).toBe(null);
  });

  test('is refused where it cannot be', () => {
    const { samples, list } = takeOf(parts);
    expect(() => forecastRise(samples.subarray(1), list, chain)).toThrow('channels.length must equal');
    expect(() => forecastRise(samples, list, { stages: [{ ...COMPRESSOR, ratio: 0 }] })).toThrow(
      'forecastRise: chain.stages[0].ratio',
    );
    expect(() => forecastRise(samples, list, chain, { ids: [9] })).toThrow('ids');
    expect(() => forecastRise(samples, {} as never, chain)).toThrow(TypeError);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/features/analyse.js';
import { DEFAULT_ANALYSIS_OPTIONS } from '../../src/features/analysis-options.js';
import { createFeatureColumns, FEATURE_NAMES } from '../../src/features/feature-table.js';
import { createFrameMeter } from '../../src/features/frame-meter.js';
import { mulberry32, whiteNoise } from '../lib/random.js';
import { plainFeatures } from './plain-features.js';

type Clip = Float32Array<ArrayBuffer>;

/** Pieces of noise, tones, clicks, DC, silence and arbitrary floats, at levels from full scale to far below 32 bits. */
const piece: fc.Arbitrary<Clip> = fc.oneof(
  fc
    .record({ seed: fc.nat(), length: fc.nat(700), level: fc.double({ min: -200, max: 0, noNaN: true }) })
    .map(({ seed, length, level }) => whiteNoise(seed, length, 10 ** (level / 20))),
  fc
    .record({
      f: fc.double({ min: 0, max: 0.5, noNaN: true }),
      length: fc.nat(700),
      g: fc.constantFrom(1, 1e-4),
    })
    .map(({ f, length, g }) =>
      Float32Array.from({ length }, (_, n) => g * Math.sin(2 * Math.PI * f * n + 0.3)),
    ),
  fc.nat(500).map((length) => new Float32Array(length)),
  fc.nat(500).map((length) => new Float32Array(length).fill(0.1)),
  fc.nat(300).map((length) => Float32Array.from({ length: length + 1 }, (_, n) => (n === 0 ? 1 : 0))),
  fc
    .float32Array({ maxLength: 300, min: -1, max: 1, noNaN: true })
    .map((samples) => Float32Array.from(samples)),
);
const clip: fc.Arbitrary<Clip> = fc
  .array(piece, { maxLength: 5 })
  .map((pieces) => Float32Array.from(pieces.flatMap((p) => Array.from(p))));
const channelsOf = (most: number): fc.Arbitrary<Clip[]> =>
  fc.array(clip, { minLength: 1, maxLength: most }).map((clips) => {
    const length = Math.max(...clips.map((c) => c.length));
    return clips.map((c) => {
      const padded = new Float32Array(length);
      padded.set(c);
      return padded;
    });
  });
const rate = fc.constantFrom(8000, 11025, 16000, 44100, 48000, 96000);

/** Whole parts of a frame of 20 ms and others, as long as it, and longer, so that samples lie between frames. */
const hop = fc.constantFrom(0.005, 0.007, 0.02, 0.033);

const near = (actual: number | undefined, expected: number, tolerance: number, what: string) => {
  if (actual === expected) return;
  expect(Math.abs((actual as number) - expected), `${what}: ${actual} for ${expected}`).toBeLessThanOrEqual(
    tolerance,
  );
};

describe('analyse', () => {
  it('equals the plain one-feature forms to 1e-9 on any input', () => {
    // A pair's transform errs by about 1e-16 of the pair's peak amplitude, and frames over 100 dB apart are not
    // paired: so by at most 1e-11 of a frame's own amplitude in every bin. Tolerance: 1e-9 of the feature's range,
    // times frame power / band power where the feature describes a band that holds only part of the frame; for M3
    // and M4 the range is that of a spectrum as narrow as this one.
    fc.assert(
      fc.property(channelsOf(3), rate, hop, (channels, sampleRateHz, hopSeconds) => {
        const { columns, grid, settings } = analyse(channels, { sampleRateHz, hopSeconds });
        const half = sampleRateHz / 2;
        for (let k = 0; k < grid.frameCount; k++) {
          const plain = plainFeatures(channels, grid, settings, k);
          near(columns.levelDb[k], plain.levelDb, 1e-9, 'level');
          near(columns.zeroCrossingsPerSecond[k], plain.zeroCrossingsPerSecond, 1e-9 * half, 'crossings');
          near(columns.periodicity[k], plain.periodicity, 1e-9, 'periodicity');
          const power = 10 ** (plain.levelDb / 10);
          const flatTolerance = 1e-9 * Math.max(1, power / plain.flatTotal);
          if (power > 0) near(columns.flatness[k], plain.flatness, flatTolerance, 'flatness');
          else expect(columns.flatness[k]).toBe(0);
          plain.bandEnergies.forEach((energy, b) => {
            near(columns.bandEnergies[b]?.[k], energy, 1e-9 * power, `band ${b}`);
          });
          // Of a band that holds less than 1e-9 of the frame's power, position and shape are rounding.
          if (plain.total <= 1e-9 * power) continue;
          const tolerance = 1e-9 * Math.max(1, power / plain.total);
          near(columns.flux[k], plain.flux, tolerance, 'flux');
          near(columns.centroidHz[k], plain.centroidHz, tolerance * half, 'centroid');
          near(columns.spreadHz[k], plain.spreadHz, tolerance * half, 'spread');
          const narrow = half / plain.spreadHz;
          near(columns.skewness[k], plain.skewness, tolerance * narrow ** 3, 'skewness');
          near(columns.excessKurtosis[k], plain.excessKurtosis, tolerance * narrow ** 4, 'kurtosis');
          // Equal bins may swap places by rounding: the bin that was taken must be as strong as the strongest.
          const binHz = sampleRateHz / grid.fftSize;
          const strongest = Math.max(...plain.bins.map(({ p }) => p));
          const peak = columns.peakHz[k] as number;
          const atPeak = plain.bins.filter(({ f }) => Math.abs(f - peak) <= 0.5001 * binHz).map(({ p }) => p);
          near(Math.max(...atPeak), strongest, tolerance * strongest, 'peak');
          // The share is reached at the roll-off, and not one bin before.
          const below = (hz: number) =>
            plain.bins.filter(({ f }) => f <= hz).reduce((sum, { p }) => sum + p, 0) / plain.total;
          const rollOff = columns.rollOffHz[k] as number;
          expect(below(rollOff + 1e-6)).toBeGreaterThanOrEqual(0.85 - tolerance);
          expect(below(rollOff - 0.5 * binHz)).toBeLessThanOrEqual(0.85 + tolerance);
        }
      }),
      { numRuns: 120 },
    );
  });

  it('reads as far as the widest of its bands reaches, whichever that is', () => {
    // White noise, so that no band is far below the frame: 1e-9 of each feature's own size is 1e5 roundings.
    const samples = whiteNoise(3, 4000, 0.1);
    const low = { lowHz: 200, highHz: 1000 };
    const high = { lowHz: 6000, highHz: 8000 };
    for (const wide of [{ spectrumBand: high }, { flatnessBand: high }, { bands: [high] }]) {
      const narrow = { spectrumBand: low, flatnessBand: low, bands: [low] };
      const { columns, grid, settings } = analyse(samples, { sampleRateHz: 16_000, ...narrow, ...wide });
      for (let k = 0; k < grid.frameCount; k++) {
        const plain = plainFeatures([samples], grid, settings, k);
        near(columns.centroidHz[k], plain.centroidHz, 1e-9 * 8000, 'centroid');
        near(columns.flatness[k], plain.flatness, 1e-9, 'flatness');
        near(columns.flux[k], plain.flux, 1e-9, 'flux');
        near(columns.bandEnergies[0]?.[k], plain.bandEnergies[0] as number, 1e-9, 'band');
      }
    }
  });

  it('does not change flatness, moments, crossings, flux and periodicity under a gain', () => {
    // A power of two changes exponents only, so the results are equal but for the rounding of sums of tiny numbers:
    // where a product falls among subnormal 32-bit numbers, the samples themselves would change.
    fc.assert(
      fc.property(clip, fc.integer({ min: -20, max: 6 }), (samples, exponent) => {
        const coarse = samples.map((x) => (Math.abs(x) < 1e-20 ? 0 : x));
        const one = analyse(coarse, { sampleRateHz: 48000 }).columns;
        const other = analyse(
          coarse.map((x) => x * 2 ** exponent),
          { sampleRateHz: 48000 },
        ).columns;
        for (const name of FEATURE_NAMES) {
          if (name === 'bandEnergies') continue;
          const gainDb = name === 'levelDb' ? 20 * exponent * Math.log10(2) : 0;
          one[name].forEach((value, k) => {
            near(other[name][k], value + gainDb, 1e-9 * Math.max(1, Math.abs(value)), name);
          });
        }
      }),
      { numRuns: 100 },
    );
  });

  it('does not change under a turn of polarity, of all channels or of one', () => {
    fc.assert(
      fc.property(channelsOf(2), rate, (channels, sampleRateHz) => {
        const turned = channels.map((c, i) => (i === 0 ? c.map((x) => -x) : c));
        const one = analyse(channels, { sampleRateHz }).columns;
        const other = analyse(turned, { sampleRateHz }).columns;
        // Negation is exact everywhere.
        expect(other).toEqual(one);
      }),
      { numRuns: 60 },
    );
  });

  it('does not change when two channels swap places', () => {
    fc.assert(
      fc.property(channelsOf(2), rate, (channels, sampleRateHz) => {
        // a + b = b + a exactly.
        expect(analyse([...channels].reverse(), { sampleRateHz }).columns).toEqual(
          analyse(channels, { sampleRateHz }).columns,
        );
      }),
      { numRuns: 60 },
    );
  });

  it('averages powers: a channel and its inverse give what the channel gives', () => {
    const left = whiteNoise(1, 9600);
    const alone = analyse(left, { sampleRateHz: 48000 }).columns;
    const both = analyse([left, left.map((x) => -x)], { sampleRateHz: 48000 }).columns;
    alone.centroidHz.forEach((hz, k) => {
      near(both.centroidHz[k], hz, 1e-6, 'centroid');
      near(both.levelDb[k], alone.levelDb[k] as number, 1e-9, 'level');
    });
  });

  it('holds only the features that were asked for, and gives the same for each alone', () => {
    const samples = whiteNoise(2, 5000);
    const all = analyse(samples, { sampleRateHz: 44100 });
    expect(all.features).toEqual(FEATURE_NAMES);
    expect(Object.keys(all.columns)).toEqual([...FEATURE_NAMES]);
    for (const name of FEATURE_NAMES) {
      const table = analyse(samples, { sampleRateHz: 44100, features: [name] });
      expect(table.features).toEqual([name]);
      expect(Object.keys(table.columns)).toEqual([name]);
      expect(table.columns[name]).toEqual(all.columns[name]);
    }
    expect(Object.keys(analyse(samples, { sampleRateHz: 44100, features: [] }).columns)).toEqual([]);
  });

  it('gives the same bits when the clip passes by in blocks', () => {
    const samples = whiteNoise(3, 9000);
    const whole = analyse(samples, { sampleRateHz: 48000 });
    const columns = createFeatureColumns(FEATURE_NAMES, whole.settings.bands.length, whole.grid.frameCount);
    const meter = createFrameMeter(whole.grid, whole.settings, columns);
    const uniform = mulberry32(4);
    for (let frame = 0; frame < whole.grid.frameCount; frame += 2) {
      // A buffer that starts anywhere before the pair's earliest sample (periodicity's: 720 before the centre).
      const start = Math.max(0, frame * whole.grid.hopSamples - 720 - Math.floor(300 * uniform()));
      meter.measurePair([samples.subarray(start, start + 2500) as Clip], start, frame, frame);
    }
    expect(columns).toEqual(whole.columns);
  });

  it('gives an empty table for an empty clip', () => {
    const { columns, grid } = analyse(new Float32Array(0), { sampleRateHz: 48000 });
    expect(grid.frameCount).toBe(0);
    expect(columns.levelDb.length).toBe(0);
    expect(columns.bandEnergies.map((c) => c.length)).toEqual(new Array(10).fill(0));
  });

  it('measures one sample and clips shorter than a frame', () => {
    const one = analyse(Float32Array.of(0.5), { sampleRateHz: 48000 });
    expect(one.grid.frameCount).toBe(1);
    expect(one.columns.levelDb[0]).toBeCloseTo(10 * Math.log10(0.25 / 960), 10);
    // One sample in the middle of the window has equal power in every bin.
    expect(one.columns.flatness[0]).toBeCloseTo(1, 9);
    expect(analyse(whiteNoise(1, 300), { sampleRateHz: 48000 }).grid.frameCount).toBe(2);
  });

  it('gives 0 everywhere in silence but the level, which is −Infinity, even beside a loud frame', () => {
    const samples = new Float32Array(9600);
    samples.set(whiteNoise(1, 2400), 0);
    for (const channels of [samples, [samples, samples]]) {
      const { columns } = analyse(channels, { sampleRateHz: 48000 });
      // Frame 13 is the first without a sample of the noise; 12 and 13 are a pair. Periodicity reaches one further.
      for (let k = 13; k < 40; k++)
        for (const name of FEATURE_NAMES) {
          if (name === 'bandEnergies') for (const band of columns.bandEnergies) expect(band[k]).toBe(0);
          else if (name !== 'periodicity' || k > 13)
            expect(columns[name][k]).toBe(name === 'levelDb' ? Number.NEGATIVE_INFINITY : 0);
        }
    }
  });

  it('gives finite numbers for DC, at every sample rate', () => {
    for (const sampleRateHz of [8000, 22050, 44100, 88200, 192000]) {
      const { columns } = analyse(new Float32Array(sampleRateHz / 10).fill(0.25), { sampleRateHz });
      for (const name of FEATURE_NAMES)
        for (const column of name === 'bandEnergies' ? columns.bandEnergies : [columns[name]])
          expect(Array.from(column).every(Number.isFinite), name).toBe(true);
      // Away from the clip's edges: DC is RMS, crosses nothing, repeats nothing and lies below all bands.
      expect(columns.levelDb[10]).toBeCloseTo(20 * Math.log10(0.25), 9);
      expect(columns.zeroCrossingsPerSecond[10]).toBe(0);
      expect(columns.periodicity[10]).toBe(0);
    }
  });

  it('measures a tone alike at every sample rate', () => {
    for (const sampleRateHz of [16000, 22050, 44100, 48000, 96000, 192000]) {
      const tone = Float32Array.from({ length: sampleRateHz / 10 }, (_, n) =>
        Math.sin((2 * Math.PI * 5000 * n) / sampleRateHz),
      );
      const { columns } = analyse(tone, { sampleRateHz });
      // Within half a bin of the frame's own resolution, 1/20 ms.
      expect(Math.abs((columns.peakHz[10] as number) - 5000)).toBeLessThan(25);
      expect(Math.abs((columns.centroidHz[10] as number) - 5000)).toBeLessThan(25);
      expect(Math.abs((columns.zeroCrossingsPerSecond[10] as number) - 10000)).toBeLessThan(60);
      // The whole power lies in the band 5–7 kHz and the one below; its window spreads 1e-4 of it no further.
      const sum = columns.bandEnergies.reduce((total, column) => total + (column[10] as number), 0);
      expect(Math.abs(sum - 0.5)).toBeLessThan(1e-3);
    }
  });

  it('refuses NaN and Infinity with their index', () => {
    const samples = new Float32Array(2000);
    samples[1234] = Number.NaN;
    expect(() => analyse(samples, { sampleRateHz: 48000 })).toThrow(/analyse: channels\[1234\] .*NaN/);
    samples[1234] = Number.NEGATIVE_INFINITY;
    const clean = new Float32Array(2000);
    expect(() => analyse([clean, samples], { sampleRateHz: 48000 })).toThrow(/channels\[1\]\[1234\]/);
  });

  it('refuses wrong options with their name', () => {
    const samples = new Float32Array(10);
    const refused = (options: object, message: RegExp) =>
      expect(() => analyse(samples, options as { sampleRateHz: number })).toThrow(message);
    refused({}, /sampleRateHz/);
    refused({ sampleRateHz: 7999 }, /sampleRateHz/);
    refused({ sampleRateHz: 48000, frameSeconds: 0 }, /frameSeconds/);
    refused({ sampleRateHz: 48000, hopSeconds: Number.NaN }, /hopSeconds/);
    refused({ sampleRateHz: 48000, features: ['loudness'] }, /features\[0\]/);
    refused({ sampleRateHz: 48000, bands: [{ lowHz: 200, highHz: 100 }] }, /bands\[0\].highHz/);
    refused({ sampleRateHz: 48000, rollOffShare: 1.5 }, /rollOffShare/);
    refused({ sampleRateHz: 48000, pitchRange: { lowestHz: 100, highestHz: 50 } }, /pitchRange.highestHz/);
    expect(() => analyse(new Float64Array(3) as never, { sampleRateHz: 48000 })).toThrow(TypeError);
    expect(() => analyse([samples, new Float32Array(9)], { sampleRateHz: 48000 })).toThrow(/channels\[1\]/);
  });

  it('does not change its input or its defaults', () => {
    const samples = whiteNoise(8, 3000);
    const copy = samples.slice();
    analyse(samples, { sampleRateHz: 48000 });
    expect(samples).toEqual(copy);
    expect(Object.isFrozen(DEFAULT_ANALYSIS_OPTIONS)).toBe(true);
    expect(Object.isFrozen(DEFAULT_ANALYSIS_OPTIONS.bands[0])).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/features/analyse.js';
import { DEFAULT_ANALYSIS_OPTIONS } from '../../src/features/analysis-options.js';
import { bandEnergies } from '../../src/features/band-energies.js';
import { level } from '../../src/features/level.js';
import { periodicity } from '../../src/features/periodicity.js';
import { spectralCentroid } from '../../src/features/spectral-centroid.js';
import { spectralFlatness } from '../../src/features/spectral-flatness.js';
import { spectralFlux } from '../../src/features/spectral-flux.js';
import { spectralMoments } from '../../src/features/spectral-moments.js';
import { spectralPeak } from '../../src/features/spectral-peak.js';
import { spectralRollOff } from '../../src/features/spectral-roll-off.js';
import { spectralSpread } from '../../src/features/spectral-spread.js';
import { zeroCrossingRate } from '../../src/features/zero-crossing-rate.js';
import { messageOf } from '../lib/message-of.js';

const wrong = (value: unknown): never => value as never;
const POWER = Float64Array.of(0, 1, 4, 1, 0);

/** Every function of one spectrum and a band, by the name that its messages carry. */
const OF_SPECTRUM: readonly (readonly [
  string,
  string,
  (power: never, binHz: never, band: never) => unknown,
])[] = [
  ['spectralCentroid', 'band', spectralCentroid],
  ['spectralFlatness', 'band', spectralFlatness],
  ['spectralMoments', 'band', spectralMoments],
  ['spectralSpread', 'band', spectralSpread],
  ['spectralPeak', 'band', spectralPeak],
  [
    'spectralRollOff',
    'options.band',
    (power, binHz, band) => spectralRollOff(power, binHz, band === undefined ? {} : { band }),
  ],
  ['spectralFlux', 'band', (power, binHz, band) => spectralFlux(power, POWER as never, binHz, band)],
  [
    'bandEnergies',
    'bands[0]',
    (power, binHz, band) => bandEnergies(power, binHz, band === undefined ? [] : [band]),
  ],
];

describe.each(OF_SPECTRUM)('%s, of its %s', (name, parameter, run) => {
  const said = (power: unknown, binHz: unknown, ...band: readonly unknown[]): string =>
    messageOf(() => run(wrong(power), wrong(binHz), wrong(band[0])));

  it('refuses what is no spectrum, by name, rule and value', () => {
    const kind = `${name}: power must be a Float64Array of bins 0 to N/2; received`;
    expect(said([1, 2], 10)).toBe(`${kind} an array of 2`);
    expect(said(new Float32Array(5), 10)).toBe(`${kind} a Float32Array`);
    expect(said(new Float64Array(0), 10)).toBe(`${name}: power.length must be at least 1; received 0`);
    const bin = `${name}: power[4] must be finite and 0 or more; received`;
    for (const value of [-1e-300, Number.NaN, Number.POSITIVE_INFINITY])
      expect(said(Float64Array.of(0, 1, 4, 1, value), 10)).toBe(`${bin} ${value}`);
  });

  it('refuses a distance of bins that no rate has, and takes the widest', () => {
    for (const binHz of [0, -1, 96_000.1])
      expect(said(POWER, binHz)).toBe(
        `${name}: binHz must lie within [${Number.MIN_VALUE}, 96000]; received ${binHz}`,
      );
    expect(said(POWER, '10')).toContain(`${name}: binHz must be a number`);
    expect(said(POWER, 96_000)).toBe('nothing was thrown');
  });

  it('refuses a band that is none, and takes one up to Infinity', () => {
    expect(said(POWER, 10, null)).toBe(`${name}: ${parameter} must be { lowHz, highHz }; received null`);
    expect(said(POWER, 10, 5)).toBe(`${name}: ${parameter} must be { lowHz, highHz }; received 5`);
    expect(said(POWER, 10, { lowHz: -1, highHz: 9 })).toContain(`${name}: ${parameter}.lowHz`);
    expect(said(POWER, 10, { lowHz: 5 })).toBe(
      `${name}: ${parameter}.highHz must be a number; received undefined`,
    );
    for (const highHz of [5, 4, Number.NaN])
      expect(said(POWER, 10, { lowHz: 5, highHz })).toBe(
        `${name}: ${parameter}.highHz must be above lowHz (5); received ${highHz}`,
      );
    expect(said(POWER, 10, { lowHz: 5, highHz: Number.POSITIVE_INFINITY })).toBe('nothing was thrown');
  });
});

/** Every function of a frame of samples. */
const OF_FRAME: readonly (readonly [string, (frame: never, sampleRateHz: never) => unknown])[] = [
  ['level', level],
  ['zeroCrossingRate', zeroCrossingRate],
  ['periodicity', periodicity],
];

describe.each(OF_FRAME)('%s', (name, run) => {
  const said = (frame: unknown, sampleRateHz: unknown = 48_000): string =>
    messageOf(() => run(wrong(frame), wrong(sampleRateHz)));
  const bad = Float32Array.of(0, 1, Number.NaN);

  it('refuses what is no sound, and names what is not finite', () => {
    expect(said([0, 1])).toMatch(new RegExp(`^${name}: `));
    expect(said([new Float32Array(3), new Float32Array(2)])).toContain(`${name}: channels[1]`);
    expect(said(bad)).toContain(`${name}: frame[0][2] must be finite`);
    expect(said([new Float32Array(3), bad])).toContain(`${name}: frame[1][2] must be finite`);
    expect(said(new Float32Array(3))).toBe('nothing was thrown');
  });

  it.skipIf(name === 'level')('refuses a rate out of range, and takes those at its ends', () => {
    for (const rate of [7999, 192_001])
      expect(said(new Float32Array(3), rate)).toMatch(new RegExp(`^${name}: sampleRateHz .*${rate}$`));
    for (const rate of [8000, 192_000]) expect(said(new Float32Array(3), rate)).toBe('nothing was thrown');
  });
});

describe('what else is refused', () => {
  it.each<readonly [() => unknown, string]>([
    [() => bandEnergies(POWER, 10, wrong({})), 'bandEnergies: bands must be an array; received an object'],
    [
      () => bandEnergies(POWER, 10, [{ lowHz: 0, highHz: 5 }, wrong('all')]),
      'bandEnergies: bands[1] must be { lowHz, highHz }; received "all"',
    ],
    [
      () => spectralFlux(POWER, POWER.subarray(1), 10),
      'spectralFlux: previousPower.length must be 5; received 4',
    ],
    [
      () => spectralFlux(POWER, wrong([1, 2, 3, 4, 5]), 10),
      'spectralFlux: power must be a Float64Array of bins 0 to N/2; received an array of 5',
    ],
    [
      () => spectralRollOff(POWER, 10, { share: 0 }),
      `spectralRollOff: options.share must lie within [${Number.MIN_VALUE}, 1]; received 0`,
    ],
    [
      () => spectralRollOff(POWER, 10, { share: 1.01 }),
      `spectralRollOff: options.share must lie within [${Number.MIN_VALUE}, 1]; received 1.01`,
    ],
    [
      () => periodicity(new Float32Array(9), 8000, wrong(70)),
      'periodicity: range must be { lowestHz, highestHz }; received 70',
    ],
    [
      () => periodicity(new Float32Array(9), 8000, wrong(null)),
      'periodicity: range must be { lowestHz, highestHz }; received null',
    ],
  ])('says function, parameter, rule and value: %#', (call, message) => {
    expect(messageOf(call)).toBe(message);
  });

  it('are pitches out of order, but not one alone', () => {
    const at = (lowestHz: number, highestHz: number): string =>
      messageOf(() => periodicity(new Float32Array(9), 8000, { lowestHz, highestHz }));
    expect(at(0, 100)).toContain('periodicity: range.lowestHz');
    expect(at(100, 99)).toContain('periodicity: range.highestHz');
    expect(at(100, 100)).toBe('nothing was thrown');
  });

  it('are options of an analysis, each by its name', () => {
    const said = (options: object): string =>
      messageOf(() => analyse(new Float32Array(9), wrong({ sampleRateHz: 48_000, ...options })));
    expect(messageOf(() => analyse(new Float32Array(9), wrong(undefined)))).toBe(
      'analyse: options must be an object; received undefined',
    );
    expect(messageOf(() => analyse(new Float32Array(9), wrong(null)))).toContain('received null');
    expect(messageOf(() => analyse(wrong([0, 1]), { sampleRateHz: 48_000 }))).toMatch(/^analyse: channels/);
    expect(said({ features: 'levelDb' })).toBe(
      'analyse: options.features must be an array; received "levelDb"',
    );
    expect(said({ features: ['levelDb', 'hue'] })).toContain('analyse: options.features[1] must be one of');
    expect(said({ bands: {} })).toBe('analyse: options.bands must be an array; received an object');
    expect(said({ bands: [{ lowHz: 0, highHz: 1 }, null] })).toContain('analyse: options.bands[1] must be');
    for (const name of ['spectrumBand', 'flatnessBand'])
      expect(said({ [name]: { lowHz: 2, highHz: 1 } })).toContain(`analyse: options.${name}.highHz must be`);
    for (const [name, values] of [
      ['rollOffShare', [0, 1.01]],
      ['periodicityFrameSeconds', [0, 10.01]],
    ] as const)
      for (const value of values)
        expect(said({ [name]: value })).toContain(`analyse: options.${name} must lie`);
    expect(said({ rollOffShare: 1, periodicityFrameSeconds: 10 })).toBe('nothing was thrown');
    expect(said({ pitchRange: 5 })).toContain('analyse: options.pitchRange must be');
  });

  it('is no feature that is asked for twice, nor a table that is changed', () => {
    const bands = [{ lowHz: 0, highHz: 1000 }];
    const table = analyse(new Float32Array(9), {
      sampleRateHz: 48_000,
      features: ['levelDb', 'flux', 'levelDb'],
      bands,
    });
    expect(table.features).toEqual(['levelDb', 'flux']);
    expect(table.settings.bands).toEqual(bands);
    expect(table.settings.bands).not.toBe(bands);
    for (const part of [table, table.columns, table.features, table.settings, table.settings.bands])
      expect(Object.isFrozen(part)).toBe(true);
    const { features: _, ...defaults } = DEFAULT_ANALYSIS_OPTIONS;
    expect(analyse(new Float32Array(9), { sampleRateHz: 48_000, features: [] }).settings).toEqual({
      sampleRateHz: 48_000,
      ...defaults,
    });
  });
});

describe('the peak of a spectrum', () => {
  it('is read from a parabola through the logarithms of three bins', () => {
    // ln P = −(k − 2.25)²: a parabola itself, so that its top is found exactly.
    const parabola = Float64Array.from({ length: 6 }, (_, k) => Math.exp(-((k - 2.25) ** 2)));
    expect(spectralPeak(parabola, 1000)).toBeCloseTo(2250, 9);
  });

  it('is its bin where a neighbour is missing, empty or stronger, and the lowest of equals', () => {
    expect(spectralPeak(Float64Array.of(9, 4, 1), 1000)).toBe(0);
    expect(spectralPeak(Float64Array.of(1, 4, 9), 1000)).toBe(2000);
    expect(spectralPeak(Float64Array.of(0, 9, 4, 1), 1000)).toBe(1000);
    expect(spectralPeak(Float64Array.of(1, 4, 9, 0), 1000)).toBe(2000);
    expect(spectralPeak(Float64Array.of(0, 9, 0, 9, 0), 1000)).toBe(1000);
    // The band ends below the stronger bin.
    expect(spectralPeak(Float64Array.of(1, 2, 4, 9), 1000, { lowHz: 0, highHz: 3000 })).toBe(2000);
    expect(spectralPeak(Float64Array.of(2, 2, 2, 2), 1000, { lowHz: 1000, highHz: 2000 })).toBe(1000);
    expect(spectralPeak(new Float64Array(4), 1000)).toBe(0);
  });
});

describe('sums over the bins of a band', () => {
  const band = { lowHz: 1000, highHz: 3000 };

  it('leave out what lies beside it', () => {
    const power = Float64Array.of(7, 1, 3, 7, 7);
    expect(spectralCentroid(power, 1000, band)).toBe(1750);
    expect(spectralRollOff(power, 1000, { share: 0.25, band })).toBe(1000);
    expect(spectralRollOff(power, 1000, { share: 0.26, band })).toBe(2000);
    expect(spectralRollOff(power, 1000, { share: 1, band })).toBe(2000);
    // Two bins at 1000 and 2000 with shares 1/4 and 3/4: variance p(1 − p) of a two-point distribution.
    expect(spectralSpread(power, 1000, band)).toBeCloseTo(1000 * Math.sqrt(3 / 16), 9);
    const before = Float64Array.of(0, 0.25, 12, 0, 0);
    // Magnitudes 1 and √3 after 1/2 and √12: the first rose by a half.
    expect(spectralFlux(power, before, 1000, band)).toBeCloseTo(0.5 / (1 + Math.sqrt(3)), 12);
  });

  it('are 0 where it holds no power or no bin', () => {
    const none = { lowHz: 1100, highHz: 1900 };
    for (const [power, at] of [
      [Float64Array.of(7, 0, 0, 7), band],
      [Float64Array.of(7, 1, 3, 7), none],
    ] as const) {
      expect(spectralCentroid(power, 1000, at)).toBe(0);
      expect(spectralPeak(power, 1000, at)).toBe(0);
      expect(spectralRollOff(power, 1000, { band: at })).toBe(0);
      expect(spectralFlux(power, new Float64Array(4), 1000, at)).toBe(0);
      expect(spectralMoments(power, 1000, at)).toMatchObject({ spreadHz: 0, skewness: 0, excessKurtosis: 0 });
    }
  });
});

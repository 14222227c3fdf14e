import fc from 'fast-check';
import * as f from '../../../src/features/index.js';
import { clips, listed } from '../arbitraries/clips.js';
import { options, within } from '../arbitraries/numbers.js';
import { frequencyBands, powers } from '../arbitraries/spectra.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const inBand = fc
  .tuple(powers, fc.option(frequencyBands, { nil: undefined }))
  .map(([{ power, binHz }, band]) =>
    band === undefined ? ([power, binHz] as const) : ([power, binHz, band] as const),
  );
const frames = clips({ mostSeconds: 0.03 });
const ofFrame = frames.map((c) => [c.channels, c.sampleRateHz] as const);
const pitchRanges = fc
  .tuple(within(20, 500), within(0, 2000))
  .map(([lowestHz, more]) => ({ lowestHz, highestHz: lowestHz + more }));

export const FEATURES: Properties = {
  analyse: property(
    f.analyse,
    fc
      .tuple(
        clips({ mostSeconds: 0.06, mostChannels: 3 }),
        options({
          features: fc.uniqueArray(fc.constantFrom(...f.FEATURE_NAMES), { maxLength: 12 }),
          frameSeconds: within(0.002, 0.03),
          hopSeconds: within(0.002, 0.03),
          bands: fc.array(frequencyBands, { maxLength: 3 }),
          spectrumBand: frequencyBands,
          flatnessBand: frequencyBands,
          rollOffShare: within(0.01, 1),
        }),
      )
      .map(([c, o]) => [c.channels, { sampleRateHz: c.sampleRateHz, ...o }] as const),
    {
      audio: [0, 'all'],
      // The level of silence, and the bands in the settings that come back, may be without end.
      infinite: 'any',
      weight: 0.5,
      check: (table) => {
        for (const [name, column] of Object.entries(table.columns))
          for (const values of column instanceof Float64Array ? [column] : column) {
            must(values.length === table.grid.frameCount, `${name} must have a row a frame`);
            const sound = (x: number): boolean =>
              Number.isFinite(x) || (name === 'levelDb' && x === -Infinity);
            must(values.every(sound), `${name} must be finite`);
          }
      },
    },
  ),
  bandEnergies: property(
    f.bandEnergies,
    fc
      .tuple(powers, fc.array(frequencyBands, { maxLength: 4 }))
      .map(([p, b]) => [p.power, p.binHz, b] as const),
  ),
  level: property(
    f.level,
    frames.map((c) => [c.channels] as const),
    { audio: [0, 'all'], infinite: 'negative' },
  ),
  periodicity: property(
    f.periodicity,
    fc.tuple(ofFrame, pitchRanges).map(([a, range]) => [...a, range] as const),
    {
      audio: [0, 'all'],
      weight: 0.5,
      check: (result) => must(result >= 0 && result <= 1 + 1e-9, 'must lie within 0 and 1', result),
    },
  ),
  spectralCentroid: property(f.spectralCentroid, inBand),
  spectralFlatness: property(f.spectralFlatness, inBand, {
    // A geometric mean is at most the arithmetic one; logarithms of 1,025 bins may round above it.
    check: (result) => must(result >= 0 && result <= 1 + 1e-9, 'must lie within 0 and 1', result),
  }),
  spectralFlux: property(
    f.spectralFlux,
    fc
      .tuple(powers, fc.option(fc.nat(3)), fc.option(frequencyBands, { nil: undefined }))
      .map(([{ power, binHz }, before, band]) => {
        const previous = before === null ? null : power.map((p, k) => (k % 4 === before ? 0 : p));
        return band === undefined
          ? ([power, previous, binHz] as const)
          : ([power, previous, binHz, band] as const);
      }),
  ),
  spectralMoments: property(f.spectralMoments, inBand),
  spectralPeak: property(f.spectralPeak, inBand),
  spectralRollOff: property(
    f.spectralRollOff,
    fc
      .tuple(powers, options({ share: within(0.001, 1), band: frequencyBands }))
      .map(([{ power, binHz }, o]) => [power, binHz, o] as const),
  ),
  spectralSpread: property(f.spectralSpread, inBand),
  zeroCrossingRate: property(f.zeroCrossingRate, ofFrame, {
    audio: [0, 'all'],
    check: (result, frame, rate) =>
      // A count over a time: two divisions, each right to half a unit in the last place.
      must(
        result >= 0 && result <= rate * listed(frame).length * (1 + 2 ** -52),
        'must be at most one a sample',
        result,
      ),
  }),
};

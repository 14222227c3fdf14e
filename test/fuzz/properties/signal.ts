import fc from 'fast-check';
import * as s from '../../../src/signal/index.js';
import type { Samples } from '../../../src/signal/samples.js';
import { clips, monoClips } from '../arbitraries/clips.js';
import { rates, whole, within } from '../arbitraries/numbers.js';
import { doubles, filterDesigns, powers } from '../arbitraries/spectra.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const withGain = filterDesigns.map((design) => [design] as const);
const mono = monoClips().map(({ channels }) => [channels] as const);
const gridOptions = fc.record({
  sampleRateHz: rates,
  frameSeconds: within(1e-4, 0.05),
  hopSeconds: within(1e-4, 0.05),
});
const grids = fc.tuple(gridOptions, whole(0, 1e7)).map(([o, n]) => s.createFrameGrid(o, n));
const gridAndFrame = fc
  .tuple(grids, fc.nat())
  .map(([grid, n]) => [grid, n % Math.max(1, grid.frameCount)] as const);
const sizes = fc.integer({ min: 1, max: 11 }).map((n) => 2 ** n);
const sections = fc
  .array(filterDesigns, { minLength: 1, maxLength: 3 })
  .map((designs) => designs.map(s.peaking));

export const SIGNAL: Properties = {
  lowPass: property(s.lowPass, withGain),
  highPass: property(s.highPass, withGain),
  bandPass: property(s.bandPass, withGain),
  peaking: property(s.peaking, withGain),
  lowShelf: property(s.lowShelf, withGain),
  highShelf: property(s.highShelf, withGain),
  filterSamples: property(
    s.filterSamples,
    fc.tuple(
      monoClips().map((c) => c.channels),
      sections,
    ),
    {
      audio: [0, 'all'],
      // A peak of up to 120 dB lifts what lies far above full scale out of the range of 32-bit floats.
      infinite: 'any',
      check: (out, samples, sections) => {
        const filters = [sections].flat();
        const state = s.createBiquadState(filters.length);
        const blocks = new Float32Array(samples.length);
        for (let at = 0, n = 1; at < samples.length; at += n, n = (n * 3) % 1000)
          s.filterBlockInto(blocks.subarray(at, at + n), samples.subarray(at, at + n), filters, state);
        must(
          blocks.every((x, i) => Object.is(x, out[i])),
          'a whole clip must equal its blocks',
        );
      },
    },
  ),
  createBiquadState: property(s.createBiquadState, fc.tuple(whole(1, 1000))),
  filterBlockInto: property(
    s.filterBlockInto,
    fc
      .tuple(
        monoClips().map((c) => c.channels),
        sections,
      )
      .map(
        ([x, f]) => [new Float32Array(x.length) as Samples, x, f, new Float64Array(2 * f.length)] as const,
      ),
    { outputs: [0, 3], audio: [1, 'all'] },
  ),
  bs468WeightingDb: property(s.bs468WeightingDb, fc.tuple(within(0, 96000)), { infinite: 'negative' }),
  bs468LevelDb: property(
    s.bs468LevelDb,
    powers.map(({ power, binHz }) => [power, power.map((_, k) => Math.min(k * binHz, 96000))] as const),
    { infinite: 'negative' },
  ),
  // Above 6,165 dB (a power: 3,082 dB) the ratio is beyond a double.
  amplitudeFromDecibels: property(s.amplitudeFromDecibels, fc.tuple(within(-1e4, 1e4)), { infinite: 'any' }),
  powerFromDecibels: property(s.powerFromDecibels, fc.tuple(within(-1e4, 1e4)), { infinite: 'any' }),
  decibelsFromAmplitude: property(s.decibelsFromAmplitude, fc.tuple(within(0, 1e300)), {
    infinite: 'negative',
  }),
  decibelsFromPower: property(s.decibelsFromPower, fc.tuple(within(0, 1e300)), { infinite: 'negative' }),
  createFftPlan: property(s.createFftPlan, fc.tuple(sizes), {
    frozen: true,
    repeats: false,
    check: checkPlan,
  }),
  createFrameGrid: property(s.createFrameGrid, fc.tuple(gridOptions, whole(0, Number.MAX_SAFE_INTEGER))),
  frameCentreSample: property(s.frameCentreSample, gridAndFrame),
  frameStartSample: property(s.frameStartSample, gridAndFrame),
  frameTimeSeconds: property(s.frameTimeSeconds, gridAndFrame),
  frequencyResponse: property(
    s.frequencyResponse,
    fc.tuple(sections, fc.array(within(0, 4000), { maxLength: 5 }), fc.record({ sampleRateHz: rates })),
  ),
  magnitudeResponseDb: property(
    s.magnitudeResponseDb,
    fc.tuple(sections, fc.array(within(0, 4000), { maxLength: 5 }), fc.record({ sampleRateHz: rates })),
    { infinite: 'negative' },
  ),
  kWeighting: property(s.kWeighting, fc.tuple(fc.record({ sampleRateHz: rates }))),
  integratedLoudness: property(
    s.integratedLoudness,
    clips({ mostSeconds: 0.9, mostChannels: 5 }).map(
      (c) => [c.channels, { sampleRateHz: c.sampleRateHz }] as const,
    ),
    { audio: [0, 'all'], infinite: 'negative', weight: 0.3 },
  ),
  loudnessTrack: property(
    s.loudnessTrack,
    fc
      .tuple(clips({ mostSeconds: 0.9, mostChannels: 5 }), fc.constantFrom('momentary', 'shortTerm' as const))
      .map(([c, window]) => [c.channels, { sampleRateHz: c.sampleRateHz, window }] as const),
    { audio: [0, 'all'], infinite: 'negative', weight: 0.3 },
  ),
  rms: property(s.rms, mono, { audio: [0, 'all'] }),
  rmsDbfs: property(s.rmsDbfs, mono, { audio: [0, 'all'], infinite: 'negative' }),
  peak: property(s.peak, mono, { audio: [0, 'all'] }),
  peakDbfs: property(s.peakDbfs, mono, { audio: [0, 'all'], infinite: 'negative' }),
  stft: property(
    s.stft,
    fc
      .tuple(
        monoClips({ mostSeconds: 0.05 }),
        fc.constantFrom(...s.WINDOW_NAMES),
        within(2, 200),
        within(0.1, 1),
      )
      .map(([c, window, milliseconds, hop]) => {
        const frameSeconds = Math.max(milliseconds / 1000, 2 / c.sampleRateHz);
        const times = { frameSeconds, hopSeconds: Math.max(hop * frameSeconds, 0.0005) };
        return [c.channels, { sampleRateHz: c.sampleRateHz, window, ...times }] as const;
      }),
    { audio: [0, 'all'], weight: 0.5 },
  ),
  istft: property(
    s.istft,
    monoClips({ mostSeconds: 0.05 }).map((c) => {
      const times = { frameSeconds: 0.01, hopSeconds: 0.0025 };
      return [s.stft(c.channels, { sampleRateHz: c.sampleRateHz, window: 'hann', ...times })] as const;
    }),
    { weight: 0.5, check: (out, table) => must(out.length === table.lengthSamples, 'as long as the clip') },
  ),
  windowFigures: property(s.windowFigures, fc.tuple(doubles(1e-3, 1, 1))),
  windowedFrameInto: property(
    s.windowedFrameInto,
    fc
      .tuple(mono, fc.integer({ min: -2000, max: 6000 }), doubles(0, 1, 1), fc.nat(40))
      .map(
        ([[x], start, window, more]) => [new Float64Array(window.length + more), x, start, window] as const,
      ),
    { outputs: [0] },
  ),
  createWindow: property(
    s.createWindow,
    fc.tuple(
      fc.constantFrom(...s.WINDOW_NAMES),
      whole(1, 3000),
      fc.constantFrom('periodic', 'symmetric' as const),
    ),
  ),
};

/** There and back again is what was put in, within 1e-12 of its greatest value for sizes up to 2048 (rounding grows with log2 N). */
function checkPlan(plan: s.FftPlan, size: number): void {
  const frame = Float64Array.from({ length: size }, (_, i) => Math.sin(i * i));
  const spectrum = new Float64Array(size + 2);
  const back = new Float64Array(size);
  plan.forwardReal(frame, spectrum);
  plan.inverseReal(spectrum, back);
  for (let i = 0; i < size; i++)
    must(Math.abs(back[i]! - frame[i]!) < 1e-12, 'the inverse must undo the transform', i);
}

import {
  checkArray,
  checkChoice,
  checkFields,
  checkNumber,
  checkObject,
  checkSampleRate,
} from '../signal/check.js';
import type { Engine } from '../signal/engine.js';
import { FEATURE_NAMES, type FeatureName } from './feature-table.js';
import { checkBand, type FrequencyBand } from './frequency-band.js';
import { checkPitchRange, DEFAULT_PITCH_RANGE, type PitchRange } from './pitch-range.js';

/** Settings of {@link analyse} but for the sample rate and the choice of features. */
export interface AnalysisParameters {
  /**
   * Frame length in seconds, above 0 to 10. Default 0.02: under a periodic Hann window its power is gathered in the
   * middle 10 ms, short against a sibilant (about 100 ms), while its bins (50 Hz) still part the partials of a voice.
   */
  readonly frameSeconds: number;
  /** Distance of frames in seconds, above 0 to 10. Default 0.005: a quarter of the frame, so no burst falls between. */
  readonly hopSeconds: number;
  /**
   * Bands of the column `bandEnergies`. Default: ten without gap from 100 Hz to 16 kHz, narrow about the voice's
   * formants, with an edge at 3.5 kHz (noise of s above, vowels below) and 5–9 kHz in two (where harshness is sought:
   * common practice, no source). Below 100 Hz lies handling noise, above 16 kHz little that every recording has.
   */
  readonly bands: readonly FrequencyBand[];
  /**
   * Band of centroid, spread, skewness, kurtosis, peak, roll-off and flux. Default 100 to 16,000 Hz: free of rumble
   * and DC, and the same for every sample rate from 32 kHz on.
   */
  readonly spectrumBand: FrequencyBand;
  /**
   * Band of the flatness. Default 3 to 12 kHz, where the noise of harsh consonants is sought (common practice, no
   * source): over the whole band the tilt of the spectrum would hide whether it is noise.
   */
  readonly flatnessBand: FrequencyBand;
  /** Share of power below the roll-off, above 0 to 1. Default 0.85, the usual choice (common practice). */
  readonly rollOffShare: number;
  /** Pitches of the periodicity. Default 70 to 1000 Hz. */
  readonly pitchRange: PitchRange;
  /**
   * Length in seconds of the stretch about a frame's centre that its periodicity is taken from, above 0 to 10.
   * Default 0.03: just over two periods of the lowest default pitch, the least that shows a period.
   */
  readonly periodicityFrameSeconds: number;
}

/** Options of {@link analyse}. */
export interface AnalysisOptions<F extends FeatureName = FeatureName> extends Partial<AnalysisParameters> {
  /** Sample rate in Hz, 8,000 to 192,000. Required: a wrong guess would be silent. */
  readonly sampleRateHz: number;
  /** Columns to compute, each once; the fewer, the faster. Default: all. */
  readonly features?: readonly F[];
  /**
   * Transforms the frames: `simdEngine` of `lenition/simd` makes one with which it takes about two thirds of the time. Default: fft.js. Every column is
   * the same with any, to 1e-9 of the frame's power.
   */
  readonly engine?: Engine | null;
}

/** Every setting of an analysis, with nothing left to defaults. */
export interface AnalysisSettings extends AnalysisParameters {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

const band = (lowHz: number, highHz: number): FrequencyBand => Object.freeze({ lowHz, highHz });

/** Defaults of {@link analyse}; the reason for each stands at {@link AnalysisParameters}. */
export const DEFAULT_ANALYSIS_OPTIONS: AnalysisParameters &
  Readonly<Required<Pick<AnalysisOptions, 'features'>>> = Object.freeze({
  frameSeconds: 0.02,
  hopSeconds: 0.005,
  features: FEATURE_NAMES,
  bands: Object.freeze([
    band(100, 300),
    band(300, 600),
    band(600, 1200),
    band(1200, 2000),
    band(2000, 3500),
    band(3500, 5000),
    band(5000, 7000),
    band(7000, 9000),
    band(9000, 12000),
    band(12000, 16000),
  ]),
  spectrumBand: band(100, 16000),
  flatnessBand: band(3000, 12000),
  rollOffShare: 0.85,
  pitchRange: DEFAULT_PITCH_RANGE,
  periodicityFrameSeconds: 0.03,
});

const FIELDS: readonly string[] = [...Object.keys(DEFAULT_ANALYSIS_OPTIONS), 'sampleRateHz', 'engine'];

/** The columns that `options` ask for, each once. */
export function chosenFeatures<F extends FeatureName>(
  functionName: string,
  options: AnalysisOptions<F>,
): readonly F[] {
  const features = options.features ?? (DEFAULT_ANALYSIS_OPTIONS.features as readonly F[]);
  checkArray(functionName, 'options.features', features);
  features.forEach((name: unknown, i) => {
    checkChoice(functionName, `options.features[${i}]`, name, FEATURE_NAMES);
  });
  return Object.freeze([...new Set(features as readonly F[])]);
}

/** `options` with the defaults filled in, checked and frozen; frame and hop are left for the grid to check. */
export function analysisSettings(functionName: string, options: AnalysisOptions): AnalysisSettings {
  checkObject(functionName, 'options', options);
  checkFields(functionName, 'options', options, FIELDS);
  const defaults = DEFAULT_ANALYSIS_OPTIONS;
  checkSampleRate(functionName, options.sampleRateHz);
  const bands = options.bands ?? defaults.bands;
  checkArray(functionName, 'options.bands', bands);
  const settings: AnalysisSettings = Object.freeze({
    sampleRateHz: options.sampleRateHz,
    frameSeconds: options.frameSeconds ?? defaults.frameSeconds,
    hopSeconds: options.hopSeconds ?? defaults.hopSeconds,
    bands: bands === defaults.bands ? bands : Object.freeze([...(bands as readonly FrequencyBand[])]),
    spectrumBand: options.spectrumBand ?? defaults.spectrumBand,
    flatnessBand: options.flatnessBand ?? defaults.flatnessBand,
    rollOffShare: options.rollOffShare ?? defaults.rollOffShare,
    pitchRange: options.pitchRange ?? defaults.pitchRange,
    periodicityFrameSeconds: options.periodicityFrameSeconds ?? defaults.periodicityFrameSeconds,
  });
  settings.bands.forEach((b, i) => {
    checkBand(functionName, `options.bands[${i}]`, b);
  });
  checkBand(functionName, 'options.spectrumBand', settings.spectrumBand);
  checkBand(functionName, 'options.flatnessBand', settings.flatnessBand);
  checkNumber(functionName, 'options.rollOffShare', settings.rollOffShare, Number.MIN_VALUE, 1);
  checkPitchRange(functionName, 'options.pitchRange', settings.pitchRange);
  checkNumber(
    functionName,
    'options.periodicityFrameSeconds',
    settings.periodicityFrameSeconds,
    Number.MIN_VALUE,
    10,
  );
  return settings;
}

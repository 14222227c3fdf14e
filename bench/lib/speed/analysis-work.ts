import { analyse } from '../../../src/features/analyse.js';
import type { AnalysisOptions } from '../../../src/features/analysis-options.js';
import type { FeatureTable } from '../../../src/features/feature-table.js';
import type { Engine } from '../../../src/signal/engine.js';
import type { Samples } from '../../../src/signal/samples.js';
import { FRAME_SAMPLES, HOP_SAMPLES } from './raw-transforms.js';

/** Columns of the analysis that is measured. */
export type MeasuredFeature =
  | 'levelDb'
  | 'zeroCrossingsPerSecond'
  | 'flatness'
  | 'centroidHz'
  | 'bandEnergies';

/** Four bands over the spectrum of a voice. */
export const FOUR_BANDS = [
  { lowHz: 100, highHz: 1000 },
  { lowHz: 1000, highHz: 3500 },
  { lowHz: 3500, highHz: 9000 },
  { lowHz: 9000, highHz: 16_000 },
] as const;

const FEATURES: readonly MeasuredFeature[] = [
  'levelDb',
  'zeroCrossingsPerSecond',
  'flatness',
  'centroidHz',
  'bandEnergies',
];

/** The analysis that is measured: frames as those of the raw transforms; flatness and centroid of their default bands. */
export function analysisWork(
  samples: Samples,
  sampleRateHz: number,
  engine: Engine | null = null,
): FeatureTable<MeasuredFeature> {
  return analyse(samples, { ...optionsAt(sampleRateHz), engine });
}

/** The same with flatness and centroid of the whole spectrum, as other libraries take them. */
export function wholeSpectrumWork(
  samples: Samples,
  sampleRateHz: number,
  engine: Engine | null = null,
): FeatureTable<MeasuredFeature> {
  const whole = { lowHz: 0, highHz: sampleRateHz / 2 };
  return analyse(samples, { ...optionsAt(sampleRateHz), spectrumBand: whole, flatnessBand: whole, engine });
}

function optionsAt(sampleRateHz: number): AnalysisOptions<MeasuredFeature> {
  return {
    sampleRateHz,
    frameSeconds: FRAME_SAMPLES / sampleRateHz,
    hopSeconds: HOP_SAMPLES / sampleRateHz,
    features: FEATURES,
    bands: FOUR_BANDS,
  };
}

import meydaModule from 'meyda';
import type { Samples } from '../../../src/signal/samples.js';
import { FOUR_BANDS } from './analysis-work.js';
import { FRAME_SAMPLES, HOP_SAMPLES } from './raw-transforms.js';

/** What meyda says of one frame, with the powers of the four bands summed from its spectrum. */
export interface MeydaFrame {
  readonly rms: number;
  /** Sign changes in the frame. */
  readonly zcr: number;
  readonly spectralFlatness: number;
  /** In bins. */
  readonly spectralCentroid: number;
  readonly bands: readonly number[];
}

/** Its five that correspond to the analysis that is measured; it has no bands of one's own, but the spectrum to sum them from. */
const FEATURES = ['rms', 'zcr', 'spectralFlatness', 'spectralCentroid', 'powerSpectrum'];

/** The part of it that is used; its own types describe another form of module than Node loads. */
const meyda = meydaModule as unknown as {
  bufferSize: number;
  sampleRate: number;
  extract(
    features: readonly string[],
    frame: Samples,
  ): Omit<MeydaFrame, 'bands'> & {
    readonly powerSpectrum: Samples;
  };
};

/** The same features of the same frames by meyda; level and crossings it takes of the windowed frame (READ in its source, 5.6.3). */
export function meydaWork(samples: Samples, sampleRateHz: number): readonly MeydaFrame[] {
  meyda.bufferSize = FRAME_SAMPLES;
  meyda.sampleRate = sampleRateHz;
  const binHz = sampleRateHz / FRAME_SAMPLES;
  const last = samples.length - FRAME_SAMPLES;
  const frames: MeydaFrame[] = [];
  for (let start = 0; start < samples.length; start += HOP_SAMPLES) {
    const from = Math.min(start, last);
    const found = meyda.extract(FEATURES, samples.subarray(from, from + FRAME_SAMPLES) as Samples);
    const bands = FOUR_BANDS.map(({ lowHz, highHz }) => {
      let sum = 0;
      for (let k = Math.ceil(lowHz / binHz); k < highHz / binHz; k++) sum += found.powerSpectrum[k] as number;
      return sum;
    });
    const { rms, zcr, spectralFlatness, spectralCentroid } = found;
    frames.push({ rms, zcr, spectralFlatness, spectralCentroid, bands });
  }
  return frames;
}

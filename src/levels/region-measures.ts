import type { FrequencyBand } from '../features/frequency-band.js';
import { spectralMoments } from '../features/spectral-moments.js';
import { spectralRollOff } from '../features/spectral-roll-off.js';
import type { Region, RegionKind } from '../regions/region.js';
import { bs468WeightingDb } from '../signal/bs468-weighting.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { noisePower } from './noise-level.js';
import { noiseSpan } from './noise-span.js';
import type { RegionLevel } from './region-level.js';
import { createSpectrumMeter, meanOf, smoothedPeakHz } from './region-spectrum.js';
import { HISS_BAND, HISS_EDGE_SHARE } from './sibilant-sound.js';

/** Band of peak and moments of a consonant: above the voice that sounds with a z or v. */
const CONSONANT_BAND: FrequencyBand = Object.freeze({ lowHz: 1000, highHz: 16_000 });
/** Band of peak and moments of everything else: free of rumble and offset. */
const SOUND_BAND: FrequencyBand = Object.freeze({ lowHz: 100, highHz: 16_000 });
const CONSONANTS: readonly RegionKind[] = ['sibilant', 'fricative', 'burst'];

/** What a region measures by itself, without its surroundings. */
export interface RegionMeasures
  extends Omit<RegionLevel, 'id' | 'kind' | 'voiceDbfs' | 'sibilanceDb' | 'percentile' | 'sound'> {
  /** Power of the noise itself, without what an edge caught of a vowel; channels averaged. */
  readonly noisePower: number;
  /** Lower edge by which s and sh are told apart, in Hz; null for other kinds and for silence. */
  readonly hissEdgeHz: number | null;
}

/** Measures regions of one clip. */
export function createRegionMeter(
  channels: readonly Samples[],
  sampleRateHz: number,
): (region: Region) => RegionMeasures {
  const spectra = createSpectrumMeter(channels, sampleRateHz);
  const { binHz } = spectra;
  const weights = Float64Array.from(
    { length: spectra.binCount },
    (_, k) => 10 ** (bs468WeightingDb(k * binHz) / 10),
  );

  return (region) => {
    const { start, end } = noiseSpan(region);
    const { power, powerAboutMean, peak } = powers(channels, start, end);
    const spectrum = spectra.measure(start, end);
    return {
      durationSeconds: (end - start) / sampleRateHz,
      rmsDbfs: 10 * Math.log10(power),
      peakDbfs: 20 * Math.log10(peak),
      weightedDbfs: 10 * Math.log10(powerAboutMean * weightedShare(spectrum, weights)),
      ...shape(spectrum, CONSONANTS.includes(region.kind) ? CONSONANT_BAND : SOUND_BAND),
      noisePower: noisePower(channels, sampleRateHz, { start, end }, region.kind),
      hissEdgeHz: region.kind === 'sibilant' ? lowerEdgeHz(spectrum) : null,
    };
  };

  function lowerEdgeHz(spectrum: Doubles): number | null {
    const edge = spectralRollOff(spectrum, binHz, { band: HISS_BAND, share: HISS_EDGE_SHARE });
    return edge > 0 ? edge : null;
  }

  function shape(
    spectrum: Doubles,
    band: FrequencyBand,
  ): Pick<RegionMeasures, 'peakFrequencyHz' | 'centroidHz' | 'spreadHz' | 'skewness' | 'excessKurtosis'> {
    const moments = spectralMoments(spectrum, binHz, band);
    if (moments.centroidHz === 0)
      return {
        peakFrequencyHz: null,
        centroidHz: null,
        spreadHz: null,
        skewness: null,
        excessKurtosis: null,
      };
    const isLine = moments.spreadHz === 0;
    return {
      peakFrequencyHz: smoothedPeakHz(spectrum, binHz, band),
      centroidHz: moments.centroidHz,
      spreadHz: moments.spreadHz,
      skewness: isLine ? null : moments.skewness,
      excessKurtosis: isLine ? null : moments.excessKurtosis,
    };
  }
}

function powers(
  channels: readonly Samples[],
  start: number,
  end: number,
): { readonly power: number; readonly powerAboutMean: number; readonly peak: number } {
  let squares = 0;
  let squaresAboutMean = 0;
  let peak = 0;
  for (const channel of channels) {
    const mean = meanOf(channel, start, end);
    // Summed by channel, so that the order of two does not show in the last digit.
    let ownSquares = 0;
    let ownAboutMean = 0;
    for (let i = start; i < end; i++) {
      const x = channel[i] as number;
      ownSquares += x * x;
      ownAboutMean += (x - mean) ** 2;
      peak = Math.max(peak, Math.abs(x));
    }
    squares += ownSquares;
    squaresAboutMean += ownAboutMean;
  }
  const count = (end - start) * channels.length;
  return { power: squares / count, powerAboutMean: squaresAboutMean / count, peak };
}

/** Weighted power over power; 0 for a silent spectrum. */
function weightedShare(spectrum: Doubles, weights: Doubles): number {
  let sum = 0;
  let weighted = 0;
  for (let k = 0; k < spectrum.length; k++) {
    // A real frame's bins stand for two each, but for the first and the last.
    const p = (spectrum[k] as number) * (k === 0 || k === spectrum.length - 1 ? 1 : 2);
    sum += p;
    weighted += p * (weights[k] as number);
  }
  return sum > 0 ? weighted / sum : 0;
}

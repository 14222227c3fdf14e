import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionKind, RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { shapedNoise } from '../lib/shaped-noise.js';

/** One stretch of a made-up take. */
export interface Piece {
  readonly samples: Samples;
  /** A region covers the piece exactly where this is stated. */
  readonly kind?: RegionKind;
}

/** Pieces end to end, and the list of their regions. */
export function take(
  sampleRateHz: number,
  pieces: readonly Piece[],
): { readonly samples: Samples; readonly list: RegionList } {
  const lengthSamples = pieces.reduce((sum, piece) => sum + piece.samples.length, 0);
  const samples = new Float32Array(lengthSamples);
  let at = 0;
  const drafts = pieces.flatMap(({ samples: part, kind }) => {
    samples.set(part, at);
    const startSample = at;
    at += part.length;
    return kind === undefined ? [] : [{ kind, startSample, endSample: at }];
  });
  return { samples, list: insertRegions(createRegionList({ sampleRateHz, lengthSamples }), drafts) };
}

/** The samples at exactly this RMS. */
export function atRms(samples: Samples, rms: number): Samples {
  let squares = 0;
  for (const x of samples) squares += x * x;
  const factor = squares > 0 ? rms / Math.sqrt(squares / samples.length) : 0;
  return samples.map((x) => x * factor);
}

/**
 * A vowel-like sound: partials of `pitchHz` whose amplitudes fall with 1/k about two resonances (700 and 1200 Hz),
 * in cosine phase of k², so that no pulse stands out; up to 5 kHz or half the rate.
 */
export function vowel(sampleRateHz: number, seconds: number, rms: number, pitchHz = 200): Samples {
  const samples = new Float32Array(Math.round(seconds * sampleRateHz));
  for (let k = 1; k * pitchHz < Math.min(5000, sampleRateHz / 2); k++) {
    const hz = k * pitchHz;
    const resonance = 1 + 4 / (1 + ((hz - 700) / 150) ** 2) + 3 / (1 + ((hz - 1200) / 150) ** 2);
    const amplitude = resonance / k;
    for (let n = 0; n < samples.length; n++)
      samples[n] =
        (samples[n] as number) + amplitude * Math.cos((2 * Math.PI * hz * n) / sampleRateHz + k * k);
  }
  return atRms(samples, rms);
}

/** Noise of exactly this RMS whose spectrum is the beta distribution over 0 to 11,025 Hz with these two moments. */
export function hiss(
  sampleRateHz: number,
  seconds: number,
  rms: number,
  { m1Hz, m2Hz2, seed = 1 }: { readonly m1Hz: number; readonly m2Hz2: number; readonly seed?: number },
): Samples {
  const highest = 11025;
  const mean = m1Hz / highest;
  const sum = (mean * (1 - mean)) / (m2Hz2 / highest ** 2) - 1;
  const powerAt = (hz: number) =>
    hz >= highest ? 0 : (hz / highest) ** (mean * sum - 1) * (1 - hz / highest) ** ((1 - mean) * sum - 1);
  const length = Math.round(seconds * sampleRateHz);
  const noise = shapedNoise(seed, 2 ** Math.ceil(Math.log2(length)), sampleRateHz, powerAt);
  return atRms(noise.slice(0, length), rms);
}

/** A sine of this amplitude. */
export function sine(sampleRateHz: number, seconds: number, hz: number, amplitude: number): Samples {
  const length = Math.round(seconds * sampleRateHz);
  return Float32Array.from({ length }, (_, n) => amplitude * Math.sin((2 * Math.PI * hz * n) / sampleRateHz));
}

/** Silence. */
export function silence(sampleRateHz: number, seconds: number): Samples {
  return new Float32Array(Math.round(seconds * sampleRateHz));
}

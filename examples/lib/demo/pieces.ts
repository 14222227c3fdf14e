import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { spanGain } from './fade.js';
import { glottalSource } from './glottis.js';
import { type NoiseName, noiseSpectrum } from './noise-spectrum.js';
import { PHONES } from './phones.js';
import { createRandom } from './random.js';
import { shapedNoise } from './shaped-noise.js';
import { throughTract } from './tract.js';

/** What every piece needs. The result is `durationSeconds` long, fades included; the same seed gives the same samples. */
export interface PieceOptions {
  readonly durationSeconds: number;
  /** 8,000 to 192,000 Hz. */
  readonly sampleRateHz: number;
  readonly seed: number;
  /** RMS between the fades in dBFS, all of the spectrum up to 20 kHz counted; −20 unless stated. */
  readonly rmsDb?: number;
}

export interface NoiseOptions extends PieceOptions {
  /** Length of the fades; the −6 dB points lie half a fade inside the ends. 0.03 and 0.024 s unless stated. */
  readonly fadeInSeconds?: number;
  readonly fadeOutSeconds?: number;
  /** Moves the spectrum up (above 1) or down; 1 unless stated. */
  readonly hissScale?: number;
}

export interface SungVowelOptions extends PieceOptions {
  readonly vowel: 'aa' | 'ae' | 'ah' | 'ao' | 'ax' | 'ih' | 'iy' | 'uw';
  readonly pitchHz: number;
  /** 1 for a man's tract, about 1.15 for a woman's; 1 unless stated. */
  readonly tractScale?: number;
  /** Swing of a vibrato of 5.5 Hz to either side, in cents; 0 unless stated. */
  readonly vibratoCents?: number;
}

/**
 * A fricative by itself: steady noise between two fades.
 *
 * What lies above half the sample rate is absent, as in a recording, so at 8 kHz an s comes out well below `rmsDb`.
 */
export function synthesiseFricative(kind: 's' | 'sh' | 'f' | 'th' | 'h', options: NoiseOptions): Samples {
  return noisePiece(kind, options, 0.03, 0.024);
}

/** A breath by itself: long soft edges, 0.14 and 0.1 s unless stated. */
export function synthesiseBreath(options: NoiseOptions): Samples {
  return noisePiece('breath', options, 0.14, 0.1);
}

/**
 * The release of a t: it starts within a millisecond, at `rmsDb`, and has died away by 14 dB at its end. The usual length
 * is 0.02 to 0.04 s. The closure before it is the caller's to add.
 */
export function synthesiseTBurst(options: NoiseOptions): Samples {
  const burst = noisePiece('t', options, 0.001, 0.006);
  return burst.map((x, i) => x * amplitudeFromDecibels((-PHONES.t.noise.fallDb * i) / burst.length));
}

/** A held vowel at one pitch, with the small unevenness of a voice; fades of 0.04 s. */
export function synthesiseSungVowel(options: SungVowelOptions): Samples {
  const {
    durationSeconds,
    sampleRateHz,
    seed,
    rmsDb = -20,
    vowel,
    tractScale = 1,
    vibratoCents = 0,
  } = options;
  const length = Math.round(durationSeconds * sampleRateHz);
  const pitchHz = Float32Array.from({ length }, (_, i) => {
    const swing = Math.sin((2 * Math.PI * 5.5 * i) / sampleRateHz);
    return options.pitchHz * 2 ** ((vibratoCents / 1200) * swing);
  });
  const glottis = { openQuotient: 0.6, edgeHz: 1400, tiltHz: 12000, airiness: 0.06 };
  const { flow } = glottalSource(pitchHz, sampleRateHz, glottis, createRandom(seed));
  const voice = throughTract(flow, sampleRateHz, tractScale, () => PHONES[vowel].formants);
  let sum = 0;
  for (const x of voice) sum += x * x;
  const gain = amplitudeFromDecibels(rmsDb) / Math.sqrt(sum / length);
  return faded(voice, gain, 0.04 * sampleRateHz, 0.04 * sampleRateHz);
}

function noisePiece(name: NoiseName, options: NoiseOptions, fadeIn: number, fadeOut: number): Samples {
  const { durationSeconds, sampleRateHz, seed, rmsDb = -20, hissScale = 1 } = options;
  const { fadeInSeconds = fadeIn, fadeOutSeconds = fadeOut } = options;
  const length = Math.round(durationSeconds * sampleRateHz);
  const noise = shapedNoise(length, sampleRateHz, noiseSpectrum(name, hissScale), createRandom(seed));
  const gain = amplitudeFromDecibels(rmsDb);
  return faded(noise, gain, fadeInSeconds * sampleRateHz, fadeOutSeconds * sampleRateHz);
}

function faded(samples: Samples, gain: number, fadeInSamples: number, fadeOutSamples: number): Samples {
  const startSample = fadeInSamples / 2;
  const endSample = samples.length - fadeOutSamples / 2;
  const span = { startSample, endSample, fadeInSamples, fadeOutSamples };
  return samples.map((x, i) => x * gain * spanGain(span, i));
}

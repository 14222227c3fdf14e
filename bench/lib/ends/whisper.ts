import { highShelf } from '../../../src/signal/biquad-design.js';
import { filterSamples } from '../../../src/signal/biquad-filter.js';
import type { Random } from '../../train/random.js';
import { hiss } from './steady-noise.js';
import { driven, vocalTract } from './vocal-tract.js';
import { voicedShares } from './voiced-shares.js';

/** How air differs from the voice that it stands in for. */
export interface Air {
  /** How much louder it drives the tube, in dB. */
  readonly levelDb: number;
  /** How much brighter it is far above 1.5 kHz, in dB: a voice falls off with frequency, air much less. */
  readonly brightDb: number;
}

const BRIGHT_CORNER_HZ = 1500;

/** As strong and as dull as the voice was. */
export const PLAIN_AIR: Air = Object.freeze({ levelDb: 0, brightDb: 0 });

/** The voiced part of a sound as a whisper says it: the same tube, driven by noise in place of the voice. */
export function whisperedPart(
  samples: Float32Array,
  sampleRateHz: number,
  random: Random,
  air: Air,
): { readonly whispered: Float32Array; readonly shares: Float32Array } {
  const shares = voicedShares(samples, sampleRateHz);
  const shelf = highShelf({ sampleRateHz, frequencyHz: BRIGHT_CORNER_HZ, gainDb: air.brightDb });
  const noise = filterSamples(hiss(samples.length, random), shelf);
  const gain = 10 ** (air.levelDb / 20);
  const heard = driven(noise, vocalTract(samples, sampleRateHz));
  return { whispered: heard.map((x, i) => gain * x * (shares[i] as number)), shares };
}

/** A whisper: air in place of the voice; what was noise stays as it is. */
export function whisper(
  samples: Float32Array,
  sampleRateHz: number,
  random: Random,
  air: Air = PLAIN_AIR,
): Float32Array {
  const { whispered, shares } = whisperedPart(samples, sampleRateHz, random, air);
  return whispered.map((x, i) => x + (1 - (shares[i] as number)) * (samples[i] as number));
}

/** Air let through beside the voice. */
export function breathy(samples: Float32Array, sampleRateHz: number, random: Random, air: Air): Float32Array {
  const { whispered } = whisperedPart(samples, sampleRateHz, random, air);
  return whispered.map((x, i) => x + (samples[i] as number));
}

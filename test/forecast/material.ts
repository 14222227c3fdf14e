import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';

export const RATE = 48000;

/** Attack 0, and a release that has let go by 99.6 % after a gap, so that steady tones meet the static curve. */
export const COMPRESSOR = {
  kind: 'compressor',
  thresholdDb: -20,
  ratio: 3,
  attackSeconds: 0,
  releaseSeconds: 0.05,
} as const;

/** A stretch of steady sound: a sine of a frequency and an amplitude; amplitude 0 is silence. */
export interface Part {
  readonly seconds: number;
  readonly frequencyHz: number;
  readonly amplitude: number;
}

/** A vowel: 500 Hz, a pitch that counts as voice, quick enough for a detector's ripple to be small. */
export function vowel(amplitude: number, seconds = 0.8): Part {
  return { seconds, frequencyHz: 500, amplitude };
}

/** An s of known level: a tone that shares no factor with the rate, so that samples fall on its peaks. */
export function ess(amplitude: number, seconds = 0.4): Part {
  return { seconds, frequencyHz: 5701, amplitude };
}

export function gap(seconds = 0.28): Part {
  return { seconds, frequencyHz: 0, amplitude: 0 };
}

/** The parts in a row, with a sibilant region on every part above 2 kHz. */
export function takeOf(parts: readonly Part[]): { samples: Samples; list: RegionList } {
  const samples: number[] = [];
  const regions: { kind: 'sibilant'; startSample: number; endSample: number }[] = [];
  for (const { seconds, frequencyHz, amplitude } of parts) {
    const startSample = samples.length;
    const length = Math.round(seconds * RATE);
    for (let i = 0; i < length; i++)
      samples.push(amplitude * Math.sin((2 * Math.PI * frequencyHz * i) / RATE));
    if (frequencyHz > 2000) regions.push({ kind: 'sibilant', startSample, endSample: startSample + length });
  }
  const empty = createRegionList({ sampleRateHz: RATE, lengthSamples: samples.length });
  return { samples: Float32Array.from(samples), list: insertRegions(empty, regions) };
}

export function dB(amplitude: number): number {
  return 20 * Math.log10(amplitude);
}

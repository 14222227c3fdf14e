import { highPass } from '../../../src/signal/biquad-design.js';
import { filterSamples } from '../../../src/signal/biquad-filter.js';
import type { Random } from '../../train/random.js';
import { hiss } from './steady-noise.js';

/** Eighths at 120 beats a minute. */
export const STROKE_SECONDS = 0.25;
const EDGE_HZ = 6000;
const DECAY_SECONDS = 0.03;
/** A stroke is as loud as its first 20 ms. */
const HEARD_SECONDS = 0.02;

/** A closed hi-hat as it leaks into a vocal microphone: strokes of noise above 6 kHz, each of RMS 1 in its first 20 ms. */
export function hiHatStrokes(length: number, sampleRateHz: number, random: Random): Float32Array {
  const edge = highPass({ sampleRateHz, frequencyHz: Math.min(EDGE_HZ, 0.4 * sampleRateHz) });
  const noise = filterSamples(hiss(length, random), [edge, edge]);
  const heard = Math.round(HEARD_SECONDS * sampleRateHz);
  const decay = 1 / (DECAY_SECONDS * sampleRateHz);
  const out = new Float32Array(length);
  const step = Math.round(STROKE_SECONDS * sampleRateHz);
  for (let start = Math.round(step / 2); start < length; start += step) {
    let energy = 1e-12;
    const end = Math.min(length, start + step);
    for (let i = start; i < end; i++) {
      const x = (noise[i] as number) * Math.exp(-(i - start) * decay);
      if (i < start + heard) energy += x * x;
      out[i] = x;
    }
    const gain = Math.sqrt(heard / energy);
    for (let i = start; i < end; i++) out[i] = gain * (out[i] as number);
  }
  return out;
}

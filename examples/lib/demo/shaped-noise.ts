import { createFftPlan, type FftPlan } from '../../../src/signal/fft-plan.js';
import type { Samples } from '../../../src/signal/samples.js';
import type { NoiseSpectrum } from './noise-spectrum.js';
import type { Random } from './random.js';

/** The band whose whole power is 1: a noise keeps its level per hertz at every sample rate. */
const REFERENCE_HZ = 20_000;

const plans = new Map<number, FftPlan>();

/**
 * Normal noise with a given power spectrum: frames of random bins, turned back to samples and overlapped by half
 * under a sine window, whose squares add to one, so that the level is even.
 *
 * Its RMS is 1 when all of its spectrum up to 20 kHz lies below half the sample rate. At a lower rate what lies above
 * is absent, as in a recording, so an s at 8 kHz is weak.
 */
export function shapedNoise(
  lengthSamples: number,
  sampleRateHz: number,
  spectrum: NoiseSpectrum,
  random: Random,
): Samples {
  const size = 2 ** Math.round(Math.log2(sampleRateHz * 0.0107));
  const plan = planOf(size);
  const hop = size / 2;
  const binHz = sampleRateHz / size;
  let total = 0;
  for (let f = binHz; f <= REFERENCE_HZ; f += binHz) total += spectrum(f);
  // Half the squared magnitude is in each of re and im; a real frame holds each bin twice.
  const scale = Float64Array.from({ length: hop }, (_, k) =>
    k * binHz <= REFERENCE_HZ ? (size / 2) * Math.sqrt(spectrum(k * binHz) / total) : 0,
  );
  const window = Float64Array.from({ length: size }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / size));
  const bins = new Float64Array(size + 2);
  const frame = new Float64Array(size);
  const noise = new Float32Array(lengthSamples);
  for (let start = -hop; start < lengthSamples; start += hop) {
    for (let k = 1; k < hop; k++) {
      bins[2 * k] = scale[k]! * random.normal();
      bins[2 * k + 1] = scale[k]! * random.normal();
    }
    plan.inverseReal(bins, frame);
    for (let n = Math.max(0, -start); n < size && start + n < lengthSamples; n++)
      noise[start + n] = noise[start + n]! + window[n]! * frame[n]!;
  }
  return noise;
}

function planOf(size: number): FftPlan {
  const plan = plans.get(size) ?? createFftPlan(size);
  plans.set(size, plan);
  return plan;
}

import type { Samples } from '../../../src/signal/samples.js';
import type { NoiseSpectrum } from './noise-spectrum.js';
import type { Random } from './random.js';
import { shapedNoise } from './shaped-noise.js';

/** Falls 12 dB an octave above the corner, 6 dB below a tenth of it. */
const falling =
  (cornerHz: number): NoiseSpectrum =>
  (f) =>
    (f / (f + cornerHz / 10)) ** 2 / (1 + (f / cornerHz) ** 4);

/** A bass drum as a microphone at the cymbals hears it: a falling sine and the knock of the beater. Peak about 1. */
export function strikeKick(sampleRateHz: number, random: Random): Samples {
  const topHz = random.uniform(90, 160);
  const lowHz = random.uniform(42, 60);
  const fallSeconds = random.uniform(0.02, 0.04);
  const knock = shapedNoise(Math.round(0.4 * sampleRateHz), sampleRateHz, falling(1800), random);
  const knockSeconds = random.uniform(0.003, 0.008);
  let phase = 0;
  return knock.map((x, i) => {
    const t = i / sampleRateHz;
    phase += (2 * Math.PI * (lowHz + (topHz - lowHz) * Math.exp(-t / fallSeconds))) / sampleRateHz;
    const body = Math.sin(phase) * Math.exp(-t / 0.09);
    return body + 0.25 * x * Math.exp(-t / knockSeconds);
  });
}

/** A snare drum likewise: two modes of the head and the wires, a noise that reaches well into the band of cymbals. */
export function strikeSnare(sampleRateHz: number, random: Random): Samples {
  const headHz = random.uniform(160, 230);
  const wires = shapedNoise(
    Math.round(0.5 * sampleRateHz),
    sampleRateHz,
    falling(random.uniform(3000, 5500)),
    random,
  );
  const wireSeconds = random.uniform(0.04, 0.09);
  return wires.map((x, i) => {
    const t = i / sampleRateHz;
    const rise = 1 - Math.exp(-t / 0.0004);
    const head = Math.sin(2 * Math.PI * headHz * t) + 0.6 * Math.sin(2 * Math.PI * 1.59 * headHz * t + 0.7);
    return rise * (0.35 * head * Math.exp(-t / 0.06) + 0.4 * x * Math.exp(-t / wireSeconds));
  });
}

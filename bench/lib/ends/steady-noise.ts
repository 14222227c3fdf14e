import type { Random } from '../../train/random.js';

/** Mains hum of 50 Hz: amplitudes of its first harmonics, the even ones strong as behind a rectifier (no source). */
const HUM = [1, 0.7, 0.3, 0.4, 0.15, 0.2, 0.08, 0.1];

/** Hum of the mains, of RMS 1. */
export function mainsHum(length: number, sampleRateHz: number): Float32Array {
  const rms = Math.sqrt(HUM.reduce((sum, a) => sum + (a * a) / 2, 0));
  const out = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    let sum = 0;
    for (const [k, a] of HUM.entries()) sum += a * Math.sin((2 * Math.PI * 50 * (k + 1) * i) / sampleRateHz);
    out[i] = sum / rms;
  }
  return out;
}

/** White noise, of RMS 1. */
export function hiss(length: number, random: Random): Float32Array {
  const out = new Float32Array(length);
  for (let i = 0; i < length; i++) out[i] = random.normal();
  return out;
}

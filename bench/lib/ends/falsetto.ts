import { resample } from '../../../test/lib/resample.js';
import { changeTempo } from './change-tempo.js';
import { driven, source, vocalTract } from './vocal-tract.js';
import { voicedShares } from './voiced-shares.js';

/**
 * The voice an octave up, its resonances where they were: what drives the tube is stretched to double length, played twice as
 * fast, made even, and sent through the tube again. What is noise stays as it is.
 */
export function falsetto(samples: Float32Array, sampleRateHz: number): Float32Array {
  const tract = vocalTract(samples, sampleRateHz);
  const stretched = changeTempo(source(samples, tract), sampleRateHz, 0.5);
  const octaveUp = resample(stretched, 2, 1);
  const high = driven(even(octaveUp, samples.length, sampleRateHz), tract);
  const shares = voicedShares(samples, sampleRateHz);
  return high.map((x, i) => x * (shares[i] as number) + (samples[i] as number) * (1 - (shares[i] as number)));
}

/** Brought to RMS 1 over each 20 ms: what was silent on the way stays silent. */
function even(samples: Float32Array, length: number, sampleRateHz: number): Float32Array {
  const reach = Math.round(0.01 * sampleRateHz);
  const sums = new Float64Array(length + 1);
  for (let i = 0; i < length; i++) sums[i + 1] = (sums[i] as number) + (samples[i] ?? 0) ** 2;
  const out = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    const from = Math.max(0, i - reach);
    const to = Math.min(length, i + reach);
    const power = ((sums[to] as number) - (sums[from] as number)) / (to - from);
    if (power > 1e-12) out[i] = (samples[i] ?? 0) / Math.sqrt(power);
  }
  return out;
}

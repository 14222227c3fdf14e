import { createPeriodicityMeter } from '../../../src/features/periodicity-meter.js';
import { DEFAULT_PITCH_RANGE } from '../../../src/features/pitch-range.js';

const FRAME_SECONDS = 0.032;
const HOP_SECONDS = 0.008;
/** Periodicity from which on a frame is partly, and wholly, voice: noise stays below the first, sung vowels above the second. */
const SOME_VOICE = 0.3;
const ALL_VOICE = 0.6;

/** How much of each sample is voice, 0 to 1, by the periodicity around it. */
export function voicedShares(samples: Float32Array, sampleRateHz: number): Float32Array {
  const length = Math.round(FRAME_SECONDS * sampleRateHz);
  const hop = Math.round(HOP_SECONDS * sampleRateHz);
  const meter = createPeriodicityMeter(sampleRateHz, length, DEFAULT_PITCH_RANGE);
  const count = Math.ceil(samples.length / hop) + 1;
  const shares = Float64Array.from({ length: count }, (_, k) => {
    const periodicity = meter.measure([samples], k * hop - (length >> 1));
    return Math.max(0, Math.min(1, (periodicity - SOME_VOICE) / (ALL_VOICE - SOME_VOICE)));
  });
  const out = new Float32Array(samples.length);
  for (let i = 0; i < out.length; i++) {
    const at = i / hop;
    const k = Math.floor(at);
    out[i] = (shares[k] as number) * (k + 1 - at) + (shares[k + 1] as number) * (at - k);
  }
  return out;
}

import type { PairMeter } from '../signal/engine.js';
import type { Samples } from '../signal/samples.js';

/**
 * Measures like `meter`, but for pairs of frames that are digital silence: their powers are 0 without a transform. The bits are the
 * same: every sum of the transform is then a sum of zeros of either sign, and their squares are +0.
 */
export function skipSilence(meter: PairMeter, frameSamples: number): PairMeter {
  // Not written into the meter's own powers: another meter of the engine may have its numbers there by now.
  const nothing = new Float64Array(meter.first.length);
  let silent = false;
  let samples = new Float32Array(0) as Samples;
  return {
    get first() {
      return silent ? nothing : meter.first;
    },
    get second() {
      return silent ? nothing : meter.second;
    },
    begin(next) {
      samples = next;
      meter.begin(next);
    },
    measure(firstStart, secondStart) {
      silent = isSilent(samples, firstStart, frameSamples) && isSilent(samples, secondStart, frameSamples);
      if (!silent) meter.measure(firstStart, secondStart);
    },
  };
}

/** In a recorded frame the first sample or the second ends the search. */
function isSilent(samples: Samples, from: number, count: number): boolean {
  for (let i = from; i < from + count; i++) if (samples[i] !== 0) return false;
  return true;
}

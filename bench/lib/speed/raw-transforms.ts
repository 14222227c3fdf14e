import FFT from 'fft.js';
import type { Samples } from '../../../src/signal/samples.js';

/** What all analysis is measured against: frames of so many samples, a new one every so many. */
export const FRAME_SAMPLES = 1024;
export const HOP_SAMPLES = 256;

const transform = new FFT(FRAME_SAMPLES);
const frame = new Float64Array(FRAME_SAMPLES);
const spectrum = new Float64Array(2 * FRAME_SAMPLES);

/**
 * The transforms of a clip and nothing else: fft.js as it comes, one real transform of 1024 samples per 256, the frame copied to
 * doubles first, no window. Frames at the end are moved inside, so that there are as many as an analysis has.
 */
export function rawTransforms(samples: Samples): Float64Array {
  const last = Math.max(0, samples.length - FRAME_SAMPLES);
  for (let start = 0; start < samples.length; start += HOP_SAMPLES) {
    const from = Math.min(start, last);
    frame.set(samples.subarray(from, from + FRAME_SAMPLES));
    // Its types ask for arrays of any, and take these.
    transform.realTransform(spectrum as unknown as number[], frame as unknown as number[]);
  }
  return spectrum;
}

import { createFftPlan } from '../../../src/signal/fft-plan.js';
import type { Random } from '../../train/random.js';

/**
 * A small room: behind the voice itself, after 3 ms, noise that falls by 60 dB in `decaySeconds` (the definition of the
 * reverberation time, ISO 3382, from memory), all of it `tailDb` louder than the voice.
 */
export function inRoom(
  samples: Float32Array,
  sampleRateHz: number,
  random: Random,
  { decaySeconds, tailDb }: { readonly decaySeconds: number; readonly tailDb: number },
): Float32Array {
  const delay = Math.round(0.003 * sampleRateHz);
  const tail = Float64Array.from({ length: Math.round(decaySeconds * sampleRateHz) }, (_, i) =>
    i < delay ? 0 : random.normal() * 10 ** ((-3 * (i - delay)) / (decaySeconds * sampleRateHz)),
  );
  const energy = tail.reduce((sum, x) => sum + x * x, 0);
  const gain = 10 ** (tailDb / 20) / Math.sqrt(energy);
  const wet = convolve(samples, tail);
  return samples.map((x, i) => x + gain * (wet[i] as number));
}

/** The first `samples.length` samples of the convolution, by one transform. */
export function convolve(samples: Float32Array, response: Float64Array): Float64Array {
  let size = 2;
  while (size < samples.length + response.length) size *= 2;
  const plan = createFftPlan(size);
  const frame = new Float64Array(size);
  const a = new Float64Array(size + 2);
  const b = new Float64Array(size + 2);
  frame.set(samples);
  plan.forwardReal(frame, a);
  frame.fill(0).set(response);
  plan.forwardReal(frame, b);
  for (let i = 0; i < a.length; i += 2) {
    const [re, im] = [a[i] as number, a[i + 1] as number];
    a[i] = re * (b[i] as number) - im * (b[i + 1] as number);
    a[i + 1] = re * (b[i + 1] as number) + im * (b[i] as number);
  }
  plan.inverseReal(a, frame);
  return frame.subarray(0, samples.length);
}

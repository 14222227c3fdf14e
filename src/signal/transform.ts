import FFT from 'fft.js';
import type { Doubles } from './samples.js';

/** The part of fft.js that is used, typed: its own types say `any`, and ours keep them out of the declarations. */
export interface Transform {
  transform(out: Doubles, data: Doubles): void;
  realTransform(out: Doubles, data: Doubles): void;
  inverseTransform(out: Doubles, data: Doubles): void;
}
const TransformOfSize = FFT as unknown as new (size: number) => Transform;

/** The tables of one size, a power of two. Nothing is checked: what anyone may call is `createFftPlan`. */
export function createTransform(size: number): Transform {
  return new TransformOfSize(size);
}

/** Transforms of real frames, with scratch memory of their own. Nothing is checked. */
export interface RealTransform {
  /** `size` samples to bins 0 to size/2, re and im one after another. */
  forward(frame: Doubles, spectrum: Doubles): void;
  /** And back. */
  inverse(spectrum: Doubles, frame: Doubles): void;
}

/** Real transforms by complex ones of the same size. */
export function createRealTransform(size: number, transform: Transform): RealTransform {
  // Made when first needed: forward needs one of them only.
  let input: Doubles | undefined;
  let output: Doubles | undefined;
  return {
    forward(frame, spectrum) {
      output ??= new Float64Array(2 * size);
      transform.realTransform(output, frame);
      for (let i = 0; i < size + 2; i++) spectrum[i] = output[i] as number;
    },
    inverse(spectrum, frame) {
      input ??= new Float64Array(2 * size);
      output ??= new Float64Array(2 * size);
      input[0] = spectrum[0] as number;
      input[1] = 0;
      for (let k = 1; k < size / 2; k++) {
        const re = spectrum[2 * k] as number;
        const im = spectrum[2 * k + 1] as number;
        input[2 * k] = re;
        input[2 * k + 1] = im;
        input[2 * (size - k)] = re;
        input[2 * (size - k) + 1] = -im;
      }
      input[size] = spectrum[size] as number;
      input[size + 1] = 0;
      transform.inverseTransform(output, input);
      for (let n = 0; n < size; n++) frame[n] = output[2 * n] as number;
    },
  };
}

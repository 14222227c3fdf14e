import type { PairMeter } from './engine.js';
import { pairPowersInto } from './pair-powers.js';
import type { Doubles, Samples } from './samples.js';
import { createTransform } from './transform.js';

/**
 * Power spectra of windowed frames, two at a time, by fft.js.
 *
 * @param window as long as a frame; zeros fill the rest of the transform
 * @param fftSize N, a power of two
 * @param binCount how many bins are wanted, at most N/2 + 1
 */
export function createPairMeter(window: Doubles, fftSize: number, binCount: number): PairMeter {
  const transform = createTransform(fftSize);
  // Two frames as the real and imaginary parts of one, and the spectrum of that.
  const pair = new Float64Array(2 * fftSize);
  const spectrum = new Float64Array(2 * fftSize);
  const first = new Float64Array(binCount);
  const second = new Float64Array(binCount);
  let samples = new Float32Array(0) as Samples;
  return {
    first,
    second,
    begin(next) {
      samples = next;
    },
    measure(firstStart, secondStart) {
      fillPair(pair, samples, firstStart, secondStart, window);
      transform.transform(spectrum, pair);
      pairPowersInto(spectrum, first, second, 1);
    },
  };
}

function fillPair(pair: Doubles, samples: Samples, first: number, second: number, window: Doubles): void {
  for (let i = 0, a = first, b = second; i < window.length; i++, a++, b++) {
    const w = window[i] as number;
    pair[2 * i] = w * (samples[a] as number);
    pair[2 * i + 1] = w * (samples[b] as number);
  }
}

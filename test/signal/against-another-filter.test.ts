import { type Complex, freqz, lusolve } from 'mathjs';
import { expect, test } from 'vitest';
import { bandPass, highPass, highShelf, lowPass, lowShelf, peaking } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import { frequencyResponse, magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { kWeighting } from '../../src/signal/k-weighting.js';
import { noiseSamples } from './noise.js';

const RATE = 48000;
const DESIGNS = {
  'a low-pass': lowPass({ sampleRateHz: RATE, frequencyHz: 3000, q: 0.7 }),
  'a high-pass': highPass({ sampleRateHz: RATE, frequencyHz: 80, q: 0.7 }),
  'a band-pass': bandPass({ sampleRateHz: RATE, frequencyHz: 6500, q: 4 }),
  'a peak': peaking({ sampleRateHz: RATE, frequencyHz: 7000, gainDb: -9, q: 2 }),
  'a low shelf': lowShelf({ sampleRateHz: RATE, frequencyHz: 200, gainDb: 5 }),
  'a high shelf': highShelf({ sampleRateHz: RATE, frequencyHz: 8000, gainDb: -6 }),
};

/** The response by mathjs 15: numerator over denominator with its complex numbers. */
function theirs(
  b: readonly number[],
  a: readonly number[],
  frequenciesHz: readonly number[],
): readonly Complex[] {
  const angles = frequenciesHz.map((f) => (2 * Math.PI * f) / RATE);
  return freqz([...b], [...a], angles).h as unknown as Complex[];
}

const FREQUENCIES = Array.from({ length: 60 }, (_, i) => 20 * 1000 ** (i / 59)); // 20 Hz to 20 kHz

test.each(Object.entries(DESIGNS))(
  'the response of %s is that of mathjs',
  (_name, { b0, b1, b2, a1, a2 }) => {
    const { real, imaginary } = frequencyResponse({ b0, b1, b2, a1, a2 }, FREQUENCIES, {
      sampleRateHz: RATE,
    });
    theirs([b0, b1, b2], [1, a1, a2], FREQUENCIES).forEach(({ re, im }, i) => {
      // At 20 Hz numerators and denominators are differences of numbers near 2 that come to some 1e-5, so some roundings
      // of 2e-16 are up to 1e-10 of them.
      expect(Math.abs(real[i]! - re)).toBeLessThan(1e-10);
      expect(Math.abs(imaginary[i]! - im)).toBeLessThan(1e-10);
    });
  },
);

test('K weighting has the response of the coefficients that ITU-R BS.1770 prints, by mathjs (READ-CODE, many repositories)', () => {
  const shelf = theirs(
    [1.53512485958697, -2.69169618940638, 1.19839281085285],
    [1, -1.69065929318241, 0.73248077421585],
    FREQUENCIES,
  );
  const highPassed = theirs([1, -2, 1], [1, -1.99004745483398, 0.99007225036621], FREQUENCIES);
  const ours = magnitudeResponseDb(kWeighting({ sampleRateHz: RATE }), FREQUENCIES, { sampleRateHz: RATE });
  FREQUENCIES.forEach((_, i) => {
    const level = 20 * Math.log10(magnitude(shelf[i]!) * magnitude(highPassed[i]!));
    // The analogue filters that ours come from were found by others from the printed digits, to about 1e-10; where the high-pass's
    // denominator is least, 2e-5 at 20 Hz, that is 5e-6 of it: 4e-5 dB.
    expect(Math.abs(ours[i]! - level)).toBeLessThan(1e-4);
  });
});

test.each(Object.entries(DESIGNS))(
  'what %s makes of a sound solves its difference equation, by the matrices of mathjs',
  (_name, section) => {
    const length = 96;
    const { b0, b1, b2, a1, a2 } = section;
    const input = noiseSamples(length, 9);
    /** The matrix of a sum over this sample and the two before. */
    const banded = (taps: readonly number[]): number[][] =>
      Array.from({ length }, (_, n) => Array.from({ length }, (_, m) => taps[n - m] ?? 0));
    const right = banded([b0, b1, b2]).map((row) => row.reduce((sum, b, m) => sum + b * input[m]!, 0));
    const output = lusolve(banded([1, a1, a2]), right) as number[][];
    filterSamples(input, section).forEach((y, n) => {
      // Ours is rounded to 32 bits, half a step of values up to 2; the solution's own error is far below.
      expect(Math.abs(y - output[n]![0]!)).toBeLessThan(2 ** -23);
    });
  },
);

function magnitude({ re, im }: Complex): number {
  return Math.hypot(re, im);
}

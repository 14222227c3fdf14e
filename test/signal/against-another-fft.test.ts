import { type Complex, complex, fft, ifft } from 'mathjs';
import { expect, test } from 'vitest';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { stft } from '../../src/signal/stft.js';
import { noiseSamples, uniformNoise } from './noise.js';

// mathjs 15 has a recursive transform of its own on objects; it shares no code with fft.js.
const transform = (values: readonly (number | Complex)[]): readonly Complex[] =>
  (fft(values as Complex[]) as readonly (number | Complex)[]).map((bin) =>
    typeof bin === 'number' ? complex(bin, 0) : bin,
  );

/** Greatest distance between bins as numbers re, im, re, im … and bins as complex values. */
function farthest(ours: ArrayLike<number>, theirs: readonly Complex[]): number {
  expect(ours.length).toBe(2 * theirs.length);
  return Math.max(
    ...theirs.map(({ re, im }, k) =>
      Math.max(Math.abs((ours[2 * k] as number) - re), Math.abs((ours[2 * k + 1] as number) - im)),
    ),
  );
}

// The error of an FFT is at most about log2 N roundings of the spectrum's norm (Higham, "Accuracy and Stability of Numerical
// Algorithms", 2002, chapter 24, from memory), shared among its bins: one bin of noise even over ±1 has √(N/3), one
// rounding is 1.1e-16, and two transforms are compared; four times that for the bin that fares worst.
const tolerance = (size: number): number => 4 * 2 * 1.1e-16 * Math.log2(size) * Math.sqrt(size / 3);

test.each([2, 8, 64, 512, 1024, 4096])(
  '%i points: real and complex transforms are those of mathjs',
  (size) => {
    const plan = createFftPlan(size);
    const frame = uniformNoise(size, size);
    const spectrum = new Float64Array(size + 2);
    plan.forwardReal(frame, spectrum);
    const half = transform([...frame]).slice(0, size / 2 + 1);
    expect(farthest(spectrum, half)).toBeLessThan(tolerance(size));

    const values = uniformNoise(2 * size, size + 1);
    const pairs = Array.from({ length: size }, (_, n) => complex(values[2 * n]!, values[2 * n + 1]!));
    const whole = new Float64Array(2 * size);
    plan.forwardComplex(values, whole);
    // The parts of a complex frame add up to twice the power.
    expect(farthest(whole, transform(pairs))).toBeLessThan(Math.SQRT2 * tolerance(size));

    plan.inverseComplex(values, whole);
    // An inverse is a forward transform over N.
    expect(farthest(whole, ifft(pairs) as Complex[])).toBeLessThan((Math.SQRT2 * tolerance(size)) / size);
  },
);

test.each([8, 1024])(
  '%i points: powers, also of two frames in one transform, are those of mathjs',
  (size) => {
    const plan = createFftPlan(size);
    const [a, b] = [uniformNoise(size, 3), uniformNoise(size, 4)];
    const powers = [0, 1, 2].map(() => new Float64Array(plan.binCount));
    plan.powerSpectrum(a, powers[0]!);
    plan.powerSpectraOfPair(a, b, powers[1]!, powers[2]!);
    [a, a, b].forEach((frame, i) => {
      const bins = transform([...frame]).slice(0, plan.binCount);
      const theirs = bins.map(({ re, im }) => re * re + im * im);
      // d(m²) = 2m·dm with the greatest magnitude, and the two frames of a pair share their errors.
      const most = 2 * 2 * Math.sqrt(Math.max(...theirs)) * tolerance(size);
      theirs.forEach((power, k) => {
        expect(Math.abs(powers[i]![k]! - power)).toBeLessThan(most);
      });
    });
  },
);

test('the short-time transform of a clip is that of mathjs on its frames', () => {
  const samples = noiseSamples(4000, 5);
  const options = { sampleRateHz: 8000, frameSeconds: 0.032, hopSeconds: 0.016, window: 'hann' } as const;
  const { values, grid } = stft(samples, options);
  expect(grid.fftSize).toBe(256);
  for (const frame of [0, 1, 10, 20, grid.frameCount - 1]) {
    // The frame's centre lies on a multiple of the hop; the Hann window is of the periodic kind.
    const start = frame * 128 - 128;
    const windowed = Array.from(
      { length: 256 },
      (_, n) => (samples[start + n] ?? 0) * (0.5 - 0.5 * Math.cos((2 * Math.PI * n) / 256)),
    );
    const ours = values.subarray(frame * 258, (frame + 1) * 258);
    expect(farthest(ours, transform(windowed).slice(0, 129))).toBeLessThan(tolerance(256));
  }
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createPairMeter } from '../../src/signal/pair-meter.js';
import { createScalarPairMeter } from '../../src/simd/scalar-pair-meter.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import { createTwiddles } from '../../src/simd/twiddles.js';
import { mulberry32 } from '../lib/random.js';

const engine = simdEngine();

/** A transform of so many points, a frame that may be shorter, and how many bins are read. */
const cases = fc.integer({ min: 4, max: 12 }).chain((power) =>
  fc.record({
    points: fc.constant(2 ** power),
    frame: fc.integer({ min: 2 ** (power - 1) + 1, max: 2 ** power }),
    bins: fc.integer({ min: 1, max: 2 ** (power - 1) + 1 }),
    // Beyond the transform's length the two frames are no longer handed in as one piece.
    hop: fc.integer({ min: 0, max: 3 * 2 ** power }),
    levels: fc.tuple(fc.integer({ min: -18, max: 18 }), fc.integer({ min: -18, max: 18 })),
    seed: fc.nat(),
  }),
);

function materialOf({
  frame,
  hop,
  levels,
  seed,
}: {
  frame: number;
  hop: number;
  levels: [number, number];
  seed: number;
}) {
  const uniform = mulberry32(seed);
  const window = Float64Array.from({ length: frame }, () => uniform());
  const samples = Float32Array.from(
    { length: frame + hop + 3 },
    (_, i) => (uniform() - 0.5) * 10 ** (levels[i % 2] as number),
  );
  return { window, samples };
}

describe('the pair meter of the kernels', () => {
  it('is there: nothing below would be compared otherwise', () => {
    expect(engine.name).toBe('webassembly');
    expect(engine.problem).toBe(null);
  });

  it('gives, bit for bit, what the same sums in JavaScript give, for every size and number of bins', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { points, bins, hop } = given;
        const { window, samples } = materialOf(given);
        const vectors = engine.createPairMeter(window, points, bins);
        const scalars = createScalarPairMeter(window, createTwiddles(points), points, bins);
        vectors.begin(samples);
        scalars.begin(samples);
        for (const start of [0, 3]) {
          vectors.measure(start, start + hop);
          scalars.measure(start, start + hop);
          expect([...vectors.first]).toEqual([...scalars.first]);
          expect([...vectors.second]).toEqual([...scalars.second]);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('gives what fft.js gives, to 1e-13 of the power of the pair', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { points, bins, hop } = given;
        const { window, samples } = materialOf(given);
        const own = engine.createPairMeter(window, points, bins);
        const other = createPairMeter(window, points, bins);
        own.begin(samples);
        other.begin(samples);
        own.measure(1, 1 + hop);
        other.measure(1, 1 + hop);
        let energy = 0;
        for (const [i, w] of window.entries())
          energy += (w * samples[1 + i]!) ** 2 + (w * samples[1 + i + hop]!) ** 2;
        // A bin's amplitude is at most √(N·energy) and errs by some log₂N roundings of it, 2^-53 each; its power by twice that.
        const tolerance = 1e-13 * points * energy;
        for (let k = 0; k < bins; k++) {
          expect(Math.abs(own.first[k]! - other.first[k]!)).toBeLessThanOrEqual(tolerance);
          expect(Math.abs(own.second[k]! - other.second[k]!)).toBeLessThanOrEqual(tolerance);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('gives a tone on a bin its power and no other bin any (the transform of a sine, closed form)', () => {
    for (const points of [16, 64, 512, 1024, 4096])
      for (const bin of [1, points / 4 - 1, points / 4, points / 2 - 1]) {
        const window = new Float64Array(points).fill(1);
        const samples = Float32Array.from({ length: 2 * points }, (_, n) =>
          Math.cos((2 * Math.PI * bin * n) / points + (n < points ? 0.3 : 1.1)),
        );
        const meter = engine.createPairMeter(window, points, points / 2 + 1);
        meter.begin(samples);
        meter.measure(0, points);
        for (const powers of [meter.first, meter.second])
          powers.forEach((power, k) => {
            // Samples are rounded to 32 bits: 6e-8 of full scale each.
            expect(Math.abs(power / (points / 2) ** 2 - (k === bin ? 1 : 0))).toBeLessThan(1e-6);
          });
      }
  });

  it('keeps meters apart that take turns, and frames shorter than those before', () => {
    const uniform = mulberry32(5);
    const samples = Float32Array.from({ length: 9000 }, () => uniform() - 0.5);
    const window = (length: number) => Float64Array.from({ length }, (_, i) => 1 + i / length);
    const shapes = [
      [4096, 4000],
      [512, 470],
      [512, 512],
      [128, 85],
    ] as const;
    const alone = shapes.map(([points, length]) => {
      const meter = createScalarPairMeter(window(length), createTwiddles(points), points, points / 2);
      meter.begin(samples);
      meter.measure(7, 300);
      return [...meter.first, ...meter.second];
    });
    const meters = shapes.map(([points, length]) =>
      engine.createPairMeter(window(length), points, points / 2),
    );
    for (let turn = 0; turn < 3; turn++)
      for (const [i, meter] of meters.entries()) {
        if (turn !== 1) meter.begin(samples);
        meter.measure(7, 300);
        expect([...meter.first, ...meter.second]).toEqual(alone[i]);
      }
  });
});

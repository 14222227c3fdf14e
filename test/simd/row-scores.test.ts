import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ConvModel, convWeightCount } from '../../src/detection/conv-classifier.js';
import { convLayout } from '../../src/detection/conv-layout.js';
import { createRowScores } from '../../src/detection/row-scores.js';
import type { NetworkParts, RowScores } from '../../src/signal/engine.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import { fitsKernels } from '../../src/simd/simd-row-scores.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const engine = simdEngine();

const shapes = fc.record({
  inputCount: fc.integer({ min: 1, max: 30 }),
  // Odd widths are for the plain form: two columns make a vector.
  channelCount: fc.integer({ min: 1, max: 26 }),
  kernelFrames: fc.constantFrom(3, 5, 5, 5),
  dilations: fc.array(fc.integer({ min: 1, max: 9 }), { maxLength: 5 }),
});

/** Those that judge every second or fourth frame: reaches are such multiples, and so is what later layers reach. */
const stepped = fc.tuple(shapes, fc.constantFrom(2, 4)).map(([shape, frameStep]) => ({
  ...shape,
  frameStep,
  dilations: [4, ...shape.dilations.map((dilation) => 4 * dilation)],
}));

function partsOf(shape: Omit<ConvModel, 'weights'>, seed: number): NetworkParts {
  const normal = gaussian(mulberry32(seed));
  return convLayout({
    ...shape,
    weights: Float64Array.from({ length: convWeightCount(shape) }, () => 0.3 * normal()),
  });
}

function rowsOf(count: number, inputCount: number, seed: number): Float64Array {
  const normal = gaussian(mulberry32(seed));
  return Float64Array.from({ length: count * inputCount }, () => 3 * normal());
}

/** Scores of all rows, taken so many at a time. */
function scoresOf(
  network: RowScores,
  { inputCount, classCount, frameStep }: NetworkParts,
  rows: Float64Array,
  cuts: readonly number[],
): number[] {
  const count = rows.length / inputCount;
  const scores: number[] = [];
  for (let at = 0, k = 0; at < count; k++) {
    const taken = Math.min(count - at, network.mostRows, frameStep * cuts[k % cuts.length]!);
    network.take(rows, at * inputCount, taken);
    scores.push(...network.scores.subarray(0, (taken / frameStep) * classCount));
    at += taken;
  }
  return scores;
}

describe('the network in the kernels', () => {
  it('gives, bit for bit, what the network in JavaScript gives, whatever its shape', () => {
    let vectors = 0;
    fc.assert(
      fc.property(
        fc.oneof(shapes, stepped),
        fc.nat(),
        fc.integer({ min: 1, max: 200 }),
        fc.array(fc.integer({ min: 1, max: 32 }), { minLength: 1, maxLength: 6 }),
        (shape, seed, count, cuts) => {
          const parts = partsOf(shape, seed);
          if (fitsKernels(parts)) vectors++;
          const rows = rowsOf(count * parts.frameStep, shape.inputCount, seed + 1);
          expect(scoresOf(engine.createRowScores(parts), parts, rows, cuts)).toEqual(
            scoresOf(createRowScores(parts), parts, rows, cuts),
          );
        },
      ),
      { numRuns: 200 },
    );
    // Or the plain form would have been compared with itself.
    expect(vectors).toBeGreaterThan(40);
  });

  it('takes the network of the package, and leaves one without room to the plain form', () => {
    const shape = { inputCount: 28, channelCount: 24, kernelFrames: 5, dilations: [1, 2, 4, 8] };
    expect(fitsKernels(partsOf(shape, 1))).toBe(true);
    const large = partsOf({ ...shape, channelCount: 200 }, 1);
    expect(fitsKernels(large)).toBe(false);
    const rows = rowsOf(70, 28, 3);
    expect(scoresOf(engine.createRowScores(large), large, rows, [50])).toEqual(
      scoresOf(createRowScores(large), large, rows, [50]),
    );
  });

  it('keeps networks apart that take turns, also with one that has ended', () => {
    const shape = { inputCount: 5, channelCount: 8, kernelFrames: 5, dilations: [1, 3] };
    const parts = [partsOf(shape, 1), partsOf({ ...shape, channelCount: 12 }, 2), partsOf(shape, 3)];
    const rows = rowsOf(60, 5, 4);
    const alone = parts.map((of) => scoresOf(createRowScores(of), of, rows, [10]));
    const together = parts.map((of) => engine.createRowScores(of));
    const found: number[][] = parts.map(() => []);
    for (let at = 0; at < 60; at += 10) {
      for (const [i, network] of together.entries()) {
        network.take(rows, at * 5, 10);
        found[i]!.push(...network.scores.subarray(0, 10 * parts[i]!.classCount));
      }
      const brief = engine.createRowScores(parts[0]!);
      brief.take(rows, 0, 1);
      brief.end();
    }
    expect(found).toEqual(alone);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ConvModel,
  convWeightCount,
  createConvClassifier,
} from '../../src/detection/conv-classifier.js';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { messageOf } from '../lib/message-of.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const CLASSES = FRAME_CLASSES.length;

interface Shape {
  inputCount: number;
  channelCount: number;
  kernelFrames: number;
  dilations: number[];
}

const shapes = fc.record({
  inputCount: fc.integer({ min: 1, max: 6 }),
  channelCount: fc.integer({ min: 1, max: 6 }),
  kernelFrames: fc.constantFrom(1, 3, 5),
  dilations: fc.array(fc.integer({ min: 1, max: 5 }), { maxLength: 4 }),
});

function randomModel(shape: Shape, seed: number): ConvModel {
  const normal = gaussian(mulberry32(seed));
  return {
    ...shape,
    weights: Float64Array.from({ length: convWeightCount(shape) }, () => 0.5 * normal()),
  };
}

function randomRows(rowCount: number, width: number, seed: number): Float64Array<ArrayBuffer> {
  const normal = gaussian(mulberry32(seed));
  return Float64Array.from({ length: rowCount * width }, normal);
}

/** The definition written out with nested lists, nothing shared with the library: a reader takes the weights one by one. */
function naive(model: ConvModel, rows: readonly number[][]): number[][] {
  let taken = 0;
  const take = (count: number): number[] => {
    const part = [...model.weights].slice(taken, taken + count);
    taken += count;
    return part;
  };
  const matrix = (from: number, to: number): number[][] => Array.from({ length: from }, () => take(to));
  const apply = (x: number[], w: number[][], b: number[]): number[] =>
    b.map((bias, c) => x.reduce((sum, value, i) => sum + value * w[i]![c]!, bias));
  const width = model.channelCount;

  const entry = matrix(model.inputCount, width);
  const entryBias = take(width);
  let h = rows.map((row) => apply(row, entry, entryBias).map((y) => Math.max(0, y)));
  for (const dilation of model.dilations) {
    const taps = matrix(model.kernelFrames, width);
    const mix = matrix(width, width);
    const bias = take(width);
    const middle = Math.floor(model.kernelFrames / 2);
    const filtered = h.map((_, t) =>
      Array.from({ length: width }, (_, c) =>
        taps.reduce((sum, tap, k) => sum + tap[c]! * (h[t + (k - middle) * dilation]?.[c] ?? 0), 0),
      ),
    );
    h = h.map((row, t) => apply(filtered[t]!, mix, bias).map((y, c) => row[c]! + Math.max(0, y)));
  }
  const exit = matrix(width, CLASSES);
  const exitBias = take(CLASSES);
  return h.map((row) => {
    const powers = apply(row, exit, exitBias).map(Math.exp);
    const total = powers.reduce((a, b) => a + b, 0);
    return powers.map((power) => power / total);
  });
}

describe('the convolutional classifier', () => {
  it('gives what the definition gives, for small networks of any shape', () => {
    fc.assert(
      fc.property(shapes, fc.integer({ min: 1, max: 25 }), fc.nat(), (shape, rowCount, seed) => {
        const model = randomModel(shape, seed);
        const inputs = randomRows(rowCount, shape.inputCount, seed + 1);
        const out = new Float64Array(rowCount * CLASSES);
        createConvClassifier(model).classify(inputs, rowCount, out);
        const rows = Array.from({ length: rowCount }, (_, t) => [
          ...inputs.subarray(t * shape.inputCount, (t + 1) * shape.inputCount),
        ]);
        const expected = naive(model, rows).flat();
        // A few hundred sums of doubles of size 1 to 1e3 in another order.
        for (let i = 0; i < expected.length; i++) expect(Math.abs(out[i]! - expected[i]!)).toBeLessThan(1e-9);
      }),
    );
  });

  it('with a step judges one frame in so many as the definition does, and lies in straight lines between', () => {
    for (const [frameStep, dilations] of [
      [2, [1, 2, 4]],
      [2, [3]],
      [4, [2, 4, 8]],
      [4, [1, 2, 4, 8]],
      [4, [1, 2, 6]],
      [8, [4, 2, 4]],
    ] as const)
      for (const rowCount of [1, 2, 3, 8, 25]) {
        const model = {
          ...randomModel(
            { inputCount: 3, channelCount: 4, kernelFrames: 5, dilations: [...dilations] },
            rowCount,
          ),
          frameStep,
        };
        const inputs = randomRows(rowCount, 3, rowCount + 1);
        const out = new Float64Array(rowCount * CLASSES).fill(7);
        createConvClassifier(model).classify(inputs, rowCount, out);
        const every = naive(
          model,
          Array.from({ length: rowCount }, (_, t) => [...inputs.subarray(3 * t, 3 * t + 3)]),
        );
        for (let t = 0; t < rowCount; t++) {
          const before = t - (t % frameStep);
          // What follows the last frame that is judged is as that one.
          const after = before + frameStep < rowCount ? before + frameStep : before;
          for (let k = 0; k < CLASSES; k++) {
            const share = (t - before) / frameStep;
            const expected = (1 - share) * every[before]![k]! + share * every[after]![k]!;
            // A few hundred sums of doubles of size 1 to 1e3 in another order.
            expect(Math.abs(out[t * CLASSES + k]! - expected)).toBeLessThan(1e-9);
          }
        }
      }
  });

  it('with a step sees one step more, since the next frame that is judged has its share', () => {
    const shape = { inputCount: 2, channelCount: 2, kernelFrames: 5, dilations: [1, 2, 4], frameStep: 2 };
    const weights = new Float64Array(convWeightCount(shape));
    const classifier = createConvClassifier({ ...shape, weights });
    expect([classifier.contextFrames, classifier.frameStep]).toEqual([14 + 2, 2]);
    const wider = createConvClassifier({ ...shape, frameStep: 4, weights });
    // A multiple of the step: 14 up to 16, and 4.
    expect([wider.contextFrames, wider.frameStep]).toEqual([20, 4]);
  });

  it('refuses a step at which a layer would leave out the middle of its own filter', () => {
    const said = (shape: object): string =>
      messageOf(() =>
        convWeightCount({ inputCount: 2, channelCount: 2, kernelFrames: 5, dilations: [1, 2, 4], ...shape }),
      );
    for (const frameStep of [1, 2, 4, 8]) expect(said({ frameStep })).toBe('nothing was thrown');
    const rule = (layer: number, reach: number, step: number): string =>
      `convWeightCount: model.frameStep must fit the filters: layer ${layer} reaches ${reach} rows, no multiple of its step of ${step}; received`;
    // All layers but the last one keep every row for the next, whose taps lie an odd number of frames apart.
    expect(said({ frameStep: 4, dilations: [2, 1, 3] })).toBe(`${rule(3, 6, 4)} 4`);
    expect(said({ frameStep: 2, kernelFrames: 3 })).toBe(`${rule(1, 1, 2)} 2`);
    expect(said({ frameStep: 2, dilations: [] })).toContain('must be 1 where there is no layer; received 2');
    for (const frameStep of [0, 17, 1.5])
      expect(said({ frameStep })).toContain('convWeightCount: model.frameStep must');
  });

  it('writes probabilities that sum to 1 in every row', () => {
    const shape = { inputCount: 4, channelCount: 5, kernelFrames: 3, dilations: [1, 3] };
    const out = new Float64Array(30 * CLASSES);
    createConvClassifier(randomModel(shape, 4)).classify(randomRows(30, 4, 5), 30, out);
    for (let t = 0; t < 30; t++) {
      const row = out.subarray(t * CLASSES, (t + 1) * CLASSES);
      expect(Math.abs(row.reduce((a, b) => a + b, 0) - 1)).toBeLessThan(1e-14);
      expect(row.every((p) => p > 0 && p < 1)).toBe(true);
    }
  });

  it('sees exactly contextFrames rows to each side', () => {
    const shape = { inputCount: 3, channelCount: 4, kernelFrames: 5, dilations: [1, 2, 4] };
    const classifier = createConvClassifier(randomModel(shape, 11));
    // (5 − 1)/2 taps to each side, at distances 1, 2 and 4: 2·(1 + 2 + 4).
    expect(classifier.contextFrames).toBe(14);
    const rowCount = 41;
    const at = 20;
    const inputs = randomRows(rowCount, 3, 12);
    const outOf = (rows: Float64Array<ArrayBuffer>): number[] => {
      const out = new Float64Array(rowCount * CLASSES);
      classifier.classify(rows, rowCount, out);
      return [...out.subarray(at * CLASSES, (at + 1) * CLASSES)];
    };
    const before = outOf(inputs);
    const reaching: number[] = [];
    for (let t = 0; t < rowCount; t++) {
      const changed = inputs.slice();
      for (let i = 0; i < 3; i++) changed[t * 3 + i] = changed[t * 3 + i]! + 5;
      if (outOf(changed).some((p, k) => p !== before[k])) reaching.push(t - at);
    }
    expect(Math.min(...reaching)).toBe(-14);
    expect(Math.max(...reaching)).toBe(14);
  });

  it('gives a row the same numbers, bit for bit, with just its context or with more', () => {
    const shape = { inputCount: 3, channelCount: 4, kernelFrames: 3, dilations: [1, 2] };
    const classifier = createConvClassifier(randomModel(shape, 21));
    const inputs = randomRows(60, 3, 22);
    const whole = new Float64Array(60 * CLASSES);
    classifier.classify(inputs, 60, whole);
    const part = new Float64Array(20 * CLASSES);
    classifier.classify(inputs.slice(20 * 3, 40 * 3), 20, part);
    const inner = (rows: Float64Array, from: number): number[] => [
      ...rows.subarray((from + 3) * CLASSES, (from + 17) * CLASSES),
    ];
    expect(inner(part, 0)).toEqual(inner(whole, 20));
  });

  it('has no memory: a longer call before does not show in a shorter one', () => {
    const shape = { inputCount: 3, channelCount: 4, kernelFrames: 3, dilations: [1, 2] };
    const model = randomModel(shape, 31);
    const rows = randomRows(8, 3, 32);
    const fresh = new Float64Array(8 * CLASSES);
    createConvClassifier(model).classify(rows, 8, fresh);
    const used = createConvClassifier(model);
    used.classify(randomRows(50, 3, 33), 50, new Float64Array(50 * CLASSES));
    const again = new Float64Array(8 * CLASSES);
    used.classify(rows, 8, again);
    expect(again).toEqual(fresh);
  });

  it('refuses an even number of taps, which has no middle', () => {
    const shape = { inputCount: 2, channelCount: 3, kernelFrames: 4, dilations: [2, 2] };
    const rule = 'model.kernelFrames must be odd; received 4';
    expect(() => convWeightCount(shape)).toThrow(`convWeightCount: ${rule}`);
    expect(() => createConvClassifier({ ...shape, weights: new Float64Array(99) })).toThrow(
      `createConvClassifier: ${rule}`,
    );
  });

  it('refuses weights that do not fit the shape, with both counts', () => {
    const shape = { inputCount: 2, channelCount: 3, kernelFrames: 3, dilations: [1] };
    // (2 + 1)·3 entry, 3·3 + 3·3 + 3 layer, (3 + 1)·6 exit.
    expect(convWeightCount(shape)).toBe(9 + 21 + 24);
    expect(() => createConvClassifier({ ...shape, weights: new Float64Array(53) })).toThrow(
      'createConvClassifier: weights.length must be 54; received 53',
    );
  });
});

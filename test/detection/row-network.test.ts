import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convWeightCount, createConvClassifier } from '../../src/detection/conv-classifier.js';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { createRowNetwork } from '../../src/detection/row-network.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const CLASSES = FRAME_CLASSES.length;

const shapes = fc.record({
  inputCount: fc.integer({ min: 1, max: 6 }),
  channelCount: fc.integer({ min: 1, max: 7 }),
  kernelFrames: fc.constantFrom(1, 3, 5, 7),
  dilations: fc.array(fc.integer({ min: 1, max: 5 }), { maxLength: 4 }),
});

/** Shapes that judge one frame in several: one layer leaves all the others out, or several a few each. */
const stepped = fc.oneof(
  fc
    .tuple(shapes, fc.integer({ min: 2, max: 5 }), fc.integer({ min: 1, max: 2 }))
    .map(([shape, frameStep, first]) => ({
      ...shape,
      frameStep,
      dilations: [first * frameStep, ...shape.dilations.slice(1).map((d) => (1 + (d % 2)) * frameStep)],
    })),
  fc
    .constantFrom(
      { frameStep: 4, dilations: [1, 2, 4, 8] },
      { frameStep: 8, dilations: [1, 2, 4, 8] },
      { frameStep: 2, dilations: [8, 4, 3] },
      { frameStep: 4, dilations: [1, 2, 6] },
    )
    .map((stepping) => ({ inputCount: 3, channelCount: 4, kernelFrames: 5, ...stepping })),
);

describe('the network over a stream', () => {
  it('gives, bit for bit, what the classifier gives for the whole, however the rows come', () => {
    fc.assert(
      fc.property(
        fc.oneof(shapes, stepped),
        fc.nat(),
        fc.integer({ min: 1, max: 150 }),
        fc.array(fc.integer({ min: 1, max: 32 }), { minLength: 1, maxLength: 8 }),
        (shape, seed, rowCount, cuts) => {
          const normal = gaussian(mulberry32(seed));
          const draw = (length: number) => Float64Array.from({ length }, () => 0.5 * normal());
          const model = { ...shape, weights: draw(convWeightCount(shape)) };
          const classifier = createConvClassifier(model);
          const network = createRowNetwork(model);
          const context = classifier.contextFrames;
          expect(network.contextFrames).toBe(context);
          // With so many rows more on both sides, no answer rests on rows that the classifier takes for 0.
          const { frameStep } = network;
          const fed = frameStep * Math.ceil((rowCount + 2 * context) / frameStep);
          const inputs = draw(fed * shape.inputCount);
          const whole = new Float64Array(fed * CLASSES);
          classifier.classify(inputs, fed, whole);
          const answers: number[] = [];
          for (let at = 0, k = 0; at < fed; k++) {
            const count = Math.min(fed - at, network.mostRows, frameStep * cuts[k % cuts.length]!);
            network.take(inputs, at * shape.inputCount, count);
            answers.push(...network.probabilities.subarray(0, count * CLASSES));
            at += count;
          }
          // The first 2·context answers rest on rows that never were; then comes that to row `context`.
          expect(answers.slice(2 * context * CLASSES, (2 * context + rowCount) * CLASSES)).toEqual([
            ...whole.subarray(context * CLASSES, (context + rowCount) * CLASSES),
          ]);
        },
      ),
      { numRuns: 200 },
    );
  });
});

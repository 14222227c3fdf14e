import { describe, expect, it } from 'vitest';
import { type ConvNetwork, createConvNetwork } from '../../bench/train/conv-network.js';
import { createRandom } from '../../bench/train/random.js';
import { setStartWeights } from '../../bench/train/start-weights.js';
import { createConvClassifier } from '../../src/detection/conv-classifier.js';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';

const CLASSES = FRAME_CLASSES.length;
const SHAPE = { inputCount: 3, channelCount: 4, kernelFrames: 3, dilations: [1, 2] };

/** A network whose biases are not 0 either. */
function network(mostRows: number, shape = SHAPE): ConvNetwork {
  const made = createConvNetwork(shape, mostRows);
  const random = createRandom(3);
  setStartWeights(made, random);
  for (let i = 0; i < made.weights.length; i++) made.weights[i]! += 0.1 * random.normal();
  return made;
}

function randomInputs(rowCount: number, width = SHAPE.inputCount): Float64Array<ArrayBuffer> {
  const random = createRandom(rowCount);
  return Float64Array.from({ length: rowCount * width }, () => random.normal());
}

/** Cross-entropy against targets that are spread over the classes, as with smoothed labels. */
function loss(net: ConvNetwork, inputs: Float64Array<ArrayBuffer>, targets: Float64Array): number {
  net.forward(inputs, inputs.length / SHAPE.inputCount);
  return targets.reduce((sum, target, i) => sum - target * Math.log(net.probabilities[i]!), 0);
}

describe('createConvNetwork', () => {
  it('has the gradients that finite differences find, for every weight', () => {
    const rowCount = 9;
    const net = network(rowCount);
    const inputs = randomInputs(rowCount);
    const random = createRandom(8);
    const targets = Float64Array.from({ length: rowCount * CLASSES }, () => random.uniform());
    for (let t = 0; t < rowCount; t++) {
      const row = targets.subarray(t * CLASSES, (t + 1) * CLASSES);
      const sum = row.reduce((total, value) => total + value, 0);
      for (let k = 0; k < CLASSES; k++) row[k]! /= sum;
    }
    loss(net, inputs, targets);
    net.backward(
      inputs,
      targets.map((target, i) => net.probabilities[i]! - target),
    );
    const step = 1e-5;
    const errors = [...net.weights].map((weight, i) => {
      net.weights[i] = weight + step;
      const above = loss(net, inputs, targets);
      net.weights[i] = weight - step;
      const below = loss(net, inputs, targets);
      net.weights[i] = weight;
      return Math.abs((above - below) / (2 * step) - net.gradients[i]!);
    });
    // Central differences err by about step² times the third derivative, and by 1e-16 · loss / step in rounding.
    expect(Math.max(...errors)).toBeLessThan(1e-6);
    expect(net.gradients.filter((g) => g !== 0).length).toBeGreaterThan(0.9 * net.weights.length);
  });

  it('adds gradients up over calls', () => {
    const inputs = randomInputs(5);
    const once = network(5);
    const twice = network(5);
    for (const [net, times] of [[once, 1] as const, [twice, 2] as const])
      for (let k = 0; k < times; k++) {
        net.forward(inputs, 5);
        net.backward(inputs, new Float64Array(5 * CLASSES).fill(0.1));
      }
    for (let i = 0; i < once.gradients.length; i++)
      expect(twice.gradients[i]).toBeCloseTo(2 * once.gradients[i]!, 12);
  });

  for (const rowCount of [1, 2, 7, 40])
    it(`gives the probabilities of createConvClassifier for ${rowCount} rows`, () => {
      const shape = { inputCount: 24, channelCount: 24, kernelFrames: 5, dilations: [1, 2, 4, 8] };
      const net = network(64, shape);
      const inputs = randomInputs(rowCount, shape.inputCount);
      const expected = new Float64Array(rowCount * CLASSES);
      const classifier = createConvClassifier({ ...shape, weights: net.weights });
      classifier.classify(inputs, rowCount, expected);
      // More rows first: nothing of an earlier call may be left.
      net.forward(randomInputs(64, shape.inputCount), 64);
      net.forward(inputs, rowCount);
      for (let i = 0; i < expected.length; i++) expect(net.probabilities[i]).toBeCloseTo(expected[i]!, 10);
      expect(net.contextFrames).toBe(classifier.contextFrames);
    });

  it('refuses an odd number of channels', () => {
    expect(() => createConvNetwork({ ...SHAPE, channelCount: 5 }, 4)).toThrow(/even; received 5/);
  });
});

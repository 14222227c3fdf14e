import type { ConvNetwork } from './conv-network.js';
import { layerViews } from './layer-views.js';
import type { Random } from './random.js';

/**
 * Random weights to start from: normal, variance falling with the numbers that a sum has (after He and others,
 * "Delving Deep into Rectifiers", 2015, from memory), made smaller where sums add up over layers. Biases stay 0.
 */
export function setStartWeights(network: ConvNetwork, random: Random): void {
  const { inputCount, channelCount, kernelFrames } = network.shape;
  const views = layerViews(network.shape, network.weights);
  const fill = (numbers: Float64Array, deviation: number): void => {
    for (let i = 0; i < numbers.length; i++) numbers[i] = deviation * random.normal();
  };
  fill(views.entry.matrix, 0.7 * Math.sqrt(2 / inputCount));
  for (const { taps, matrix } of views.layers) {
    fill(taps, Math.sqrt(1 / kernelFrames));
    fill(matrix, 0.5 * Math.sqrt(1 / channelCount));
  }
  fill(views.exit.matrix, 0.5 * Math.sqrt(1 / channelCount));
}

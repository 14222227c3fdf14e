import type { ConvModel } from '../../src/detection/conv-classifier.js';
import { FRAME_CLASSES, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import type { Doubles } from '../../src/signal/samples.js';
import { createAdam, learningShare } from './adam.js';
import { augment } from './augment.js';
import { classWeights } from './class-weights.js';
import { type ConvNetwork, createConvNetwork } from './conv-network.js';
import { frameInputs } from './frame-inputs.js';
import { UNKNOWN } from './labelled-frames.js';
import { createRandom, type Random, shuffle } from './random.js';
import { setStartWeights } from './start-weights.js';
import type { TrainingClip } from './training-clip.js';
import type { FrameTrainingOptions } from './training-options.js';

const CLASSES = FRAME_CLASSES.length;

/** What is told after each time that all clips were heard. */
export interface EpochReport {
  readonly epoch: number;
  /** Mean weighted cross-entropy over the epoch. */
  readonly loss: number;
}

/**
 * Trains a network for frames. Each epoch hears every clip once, in random order and most of them changed; clips go
 * through in chunks, and weights change every `batchFrames` frames.
 */
export function trainConvModel(
  clips: readonly TrainingClip[],
  options: FrameTrainingOptions,
  seed: number,
  report: (epoch: EpochReport) => void = () => {},
): ConvModel {
  const { channelCount, kernelFrames, dilations } = options;
  const shape = { inputCount: INPUT_COUNT, channelCount, kernelFrames, dilations };
  const reach = dilations.reduce((sum, dilation) => sum + dilation, 0) * (kernelFrames - 1);
  const network = createConvNetwork(shape, options.chunkFrames + reach);
  const random = createRandom(seed);
  setStartWeights(network, random);
  const learner = createLearner(network, clips, options);
  const order = clips.map((_, i) => i);
  for (let epoch = 1; epoch <= options.epochs; epoch++) {
    shuffle(order, random);
    for (const i of order) {
      const clip = clips[i] as TrainingClip;
      learner.hear(heardInputs(clip, options.augmentedShare, random), clip.targets);
    }
    report({ epoch, loss: learner.takeLoss() });
  }
  return { ...shape, weights: network.weights };
}

function heardInputs(clip: TrainingClip, augmentedShare: number, random: Random): Doubles {
  const powers = random.uniform() < augmentedShare ? augment(clip, random) : clip.powers;
  return frameInputs(powers, clip.frameCount, clip.usableBands);
}

/** Puts clips through a network and steps its weights. */
function createLearner(
  network: ConvNetwork,
  clips: readonly TrainingClip[],
  options: FrameTrainingOptions,
): { hear(inputs: Doubles, targets: Int8Array): void; takeLoss(): number } {
  const { chunkFrames, batchFrames, labelTarget, otherTarget } = options;
  const { contextFrames, probabilities, gradients } = network;
  const weightOf = classWeights(clips, options);
  const adam = createAdam(network.weights.length, options.weightDecay);
  const frameCount = clips.reduce((sum, clip) => sum + clip.frameCount, 0);
  const totalSteps = Math.max(1, Math.floor((options.epochs * frameCount) / batchFrames));
  const outputChanges = new Float64Array(probabilities.length);
  let batched = 0;
  let batchWeight = 0;
  let loss = 0;
  let lossWeight = 0;

  return { hear, takeLoss };

  function hear(inputs: Doubles, targets: Int8Array): void {
    for (let first = 0; first < targets.length; first += chunkFrames) {
      const end = Math.min(targets.length, first + chunkFrames);
      const from = Math.max(0, first - contextFrames);
      const to = Math.min(targets.length, end + contextFrames);
      const rows = inputs.subarray(from * INPUT_COUNT, to * INPUT_COUNT);
      network.forward(rows, to - from);
      outputChanges.fill(0, 0, (to - from) * CLASSES);
      for (let t = first; t < end; t++) judge(targets[t] as number, (t - from) * CLASSES);
      network.backward(rows, outputChanges);
      batched += end - first;
      if (batched >= batchFrames) step();
    }
  }

  function judge(target: number, at: number): void {
    if (target === UNKNOWN) return;
    const weight = weightOf[target] as number;
    for (let k = 0; k < CLASSES; k++)
      outputChanges[at + k] =
        weight * ((probabilities[at + k] as number) - (k === target ? labelTarget : otherTarget));
    loss -= weight * Math.log((probabilities[at + target] as number) + 1e-9);
    lossWeight += weight;
    batchWeight += weight;
  }

  function step(): void {
    if (batchWeight > 0) {
      const share = learningShare(adam.stepCount + 1, totalSteps, options.warmUpSteps);
      adam.step(network.weights, gradients, 1 / batchWeight, options.learningRate * share);
    }
    gradients.fill(0);
    batched = 0;
    batchWeight = 0;
  }

  function takeLoss(): number {
    const mean = loss / Math.max(lossWeight, 1e-9);
    loss = 0;
    lossWeight = 0;
    return mean;
  }
}

import { describe, expect, it } from 'vitest';
import { createAdam, learningShare } from '../../bench/train/adam.js';
import { classWeights } from '../../bench/train/class-weights.js';
import { createConvNetwork } from '../../bench/train/conv-network.js';
import { trainConvModel } from '../../bench/train/conv-trainer.js';
import { frameInputs } from '../../bench/train/frame-inputs.js';
import { packModel, unpackModel } from '../../bench/train/packed-model.js';
import { createRandom } from '../../bench/train/random.js';
import { setStartWeights } from '../../bench/train/start-weights.js';
import type { TrainingClip } from '../../bench/train/training-clip.js';
import { DEFAULT_TRAINING_OPTIONS } from '../../bench/train/training-options.js';
import { createConvClassifier } from '../../src/detection/conv-classifier.js';
import {
  BAND_COUNT,
  FRAME_CLASSES,
  HOP_SECONDS,
  INPUT_COUNT,
  ROW_BANDS,
} from '../../src/detection/detection-scale.js';

const CLASSES = FRAME_CLASSES.length;
const VOICED = 0;
const SIBILANT = 2;

/** Low noise and high noise by turns, 20 frames each: a vowel and an s that nobody could mistake. */
function clip(seed: number, frameCount: number): TrainingClip {
  const random = createRandom(seed);
  const targets = Int8Array.from({ length: frameCount }, (_, t) =>
    Math.floor(t / 20) % 2 === 0 ? VOICED : SIBILANT,
  );
  const powers = new Float64Array(frameCount * ROW_BANDS);
  for (let t = 0; t < frameCount; t++)
    for (let band = 0; band < BAND_COUNT; band++) {
      const loud = targets[t] === VOICED ? band < 6 : band >= 9;
      powers[t * ROW_BANDS + band] = (loud ? 1 : 1e-4) * Math.exp(random.normal());
    }
  const about = {
    name: `${seed}`,
    folder: 'f',
    voice: 'f',
    voices: ['f'],
    recordings: ['f/one'],
    labels: [],
    teachesFrames: true,
    usableBands: BAND_COUNT,
  };
  return { ...about, frameCount, powers, targets, hopSeconds: HOP_SECONDS };
}

const clips = [clip(1, 700), clip(2, 650), clip(3, 1500), clip(4, 40)];
const options = {
  ...DEFAULT_TRAINING_OPTIONS.frames,
  channelCount: 8,
  epochs: 12,
  batchFrames: 300,
  warmUpSteps: 5,
};

describe('trainConvModel', () => {
  const losses: number[] = [];
  const model = trainConvModel(clips, options, 1, ({ loss }) => losses.push(loss));

  it('learns what is plain, for a clip that it never heard', () => {
    const unheard = clip(9, 400);
    const track = new Float64Array(400 * CLASSES);
    createConvClassifier(model).classify(frameInputs(unheard.powers, 400, BAND_COUNT), 400, track);
    let right = 0;
    for (let t = 0; t < 400; t++) if (track[t * CLASSES + unheard.targets[t]!]! > 0.5) right++;
    // The classes lie 40 dB apart; the frames at 19 borders are allowed to be unsure.
    expect(right).toBeGreaterThan(380);
    expect(losses).toHaveLength(12);
    expect(losses.at(-1)).toBeLessThan(0.5 * losses[0]!);
  });

  it('gives the same weights for the same seed and others for another', () => {
    const short = { ...options, epochs: 1 };
    const first = trainConvModel(clips, short, 1).weights;
    expect(trainConvModel(clips, short, 1).weights).toEqual(first);
    expect(trainConvModel(clips, short, 2).weights).not.toEqual(first);
  });

  it('judges a clip alike however it is cut into chunks: each has its full context', () => {
    const lossOf = (chunkFrames: number): number => {
      const told: number[] = [];
      // One step, after all chunks: every frame is judged by the same weights.
      const once = { ...options, epochs: 1, batchFrames: 1500, augmentedShare: 0, chunkFrames };
      trainConvModel([clip(3, 1500)], once, 1, ({ loss }) => told.push(loss));
      return told[0]!;
    };
    // Sums of 1500 numbers in another order: rounding.
    expect(lossOf(200)).toBeCloseTo(lossOf(1500), 10);
  });

  it('steps by Adam on the weighted cross-entropy of each batch with smoothed targets, and on nothing before', () => {
    const own = {
      ...options,
      epochs: 1,
      batchFrames: 300,
      chunkFrames: 300,
      augmentedShare: 0,
      dilations: [],
    };
    const heard = clip(5, 900);
    const shape = { inputCount: INPUT_COUNT, channelCount: 8, kernelFrames: 5, dilations: [] };
    const network = createConvNetwork(shape, 300);
    setStartWeights(network, createRandom(1));
    const adam = createAdam(network.weights.length, own.weightDecay);
    const inputs = frameInputs(heard.powers, 900, BAND_COUNT);
    const weightOf = classWeights([heard], own);
    for (const first of [0, 300, 600]) {
      const rows = inputs.subarray(first * INPUT_COUNT, (first + 300) * INPUT_COUNT);
      const targets = heard.targets.subarray(first, first + 300);
      network.forward(rows, 300);
      const changes = network.probabilities.map((probability, i) => {
        const target = targets[Math.floor(i / CLASSES)]!;
        const wished = i % CLASSES === target ? own.labelTarget : own.otherTarget;
        return weightOf[target]! * (probability - wished);
      });
      network.gradients.fill(0);
      network.backward(rows, changes);
      const total = targets.reduce((sum, target) => sum + weightOf[target]!, 0);
      // Three steps in all; the rate rises over five, and falls to 0 at the third.
      const rate = own.learningRate * learningShare(1 + first / 300, 3, 5);
      adam.step(network.weights, network.gradients, 1 / total, rate);
    }
    const trained = trainConvModel([heard], own, 1).weights;
    for (let i = 0; i < trained.length; i++) expect(trained[i]).toBeCloseTo(network.weights[i]!, 12);
  });

  it('learns nothing from frames that are unknown', () => {
    const unknown = { ...clip(3, 800), targets: new Int8Array(800).fill(-1) };
    const one = trainConvModel([unknown], { ...options, epochs: 1 }, 1).weights;
    const two = trainConvModel([unknown], { ...options, epochs: 2 }, 1).weights;
    expect(one).toEqual(two);
  });

  it('survives packing to 12 bits with its probabilities within a few hundredths', () => {
    const measures = new Float64Array(3);
    const events = {
      measureCount: 3,
      hiddenCount: 2,
      means: measures,
      spreads: measures,
      weights: measures,
    };
    const packed = packModel({ frames: model, events });
    const unpacked = unpackModel(JSON.parse(JSON.stringify(packed))).frames;
    const inputs = frameInputs(clips[0]!.powers, 700, BAND_COUNT);
    const tracks = [model, unpacked].map((each) => {
      const track = new Float64Array(700 * CLASSES);
      createConvClassifier(each).classify(inputs, 700, track);
      return track;
    });
    const differences = tracks[0]!.map((p, i) => Math.abs(p - tracks[1]![i]!));
    expect(Math.max(...differences)).toBeLessThan(0.05);
  });
});

describe('classWeights', () => {
  it('weighs a rare class by the power of its rarity, held to a limit', () => {
    const targets = Int8Array.from({ length: 101_000 }, (_, i) => (i < 100_000 ? VOICED : SIBILANT));
    const weights = classWeights([{ ...clip(1, 40), targets }], options);
    expect(weights[SIBILANT]).toBeCloseTo((100_000 / 2000) ** 0.3, 12);
    expect(weights[1]).toBeCloseTo((100_000 / 1000) ** 0.3, 12);
    expect(Math.max(...classWeights([{ ...clip(1, 40), targets }], { ...options, mostClassWeight: 2 }))).toBe(
      2,
    );
  });
});

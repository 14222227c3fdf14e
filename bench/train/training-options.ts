/** Everything that can be chosen about training. */
export interface TrainingOptions {
  readonly seed: number;
  /** Share of clips that are heard a second time, as others might have sung them. */
  readonly copiedShare: number;
  /** Share of clips whose events are heard a second time with a breath before or in them. */
  readonly breathingShare: number;
  /** Singers whose breaths are made out of noise. */
  readonly breathMouths: number;
  /** Share of clips whose events are heard a second time with glottal stops in their vowels. */
  readonly hardOnsetShare: number;
  /**
   * The network for frames learns from all of them, but judges only the first of so many; those between lie in straight lines between its
   * answers. No part of how it is trained, so that kept networks serve any step.
   */
  readonly frameStep: number;
  readonly frames: FrameTrainingOptions;
  readonly events: EventTrainingOptions;
}

/** How the network for frames is shaped and trained. */
export interface FrameTrainingOptions {
  /** Even: the products of matrices work on pairs of columns. */
  readonly channelCount: number;
  readonly kernelFrames: number;
  readonly dilations: readonly number[];
  /** How often every clip is heard. */
  readonly epochs: number;
  readonly learningRate: number;
  /** Steps in which the learning rate rises to its full value. */
  readonly warmUpSteps: number;
  readonly weightDecay: number;
  /** Frames between two steps. */
  readonly batchFrames: number;
  /** Frames that go through the network at once, its context beside them: what the cache of a processor holds. */
  readonly chunkFrames: number;
  /** Share of clips that are changed before they are heard. */
  readonly augmentedShare: number;
  /** What the labelled class is to reach, and each of the others: labels are not always right. */
  readonly labelTarget: number;
  readonly otherTarget: number;
  /** A class weighs (voiced frames / own frames) to this power, at most the second number. */
  readonly classWeightPower: number;
  readonly mostClassWeight: number;
}

/** How the network for events is shaped and trained. */
export interface EventTrainingOptions {
  readonly hiddenCount: number;
  /** Networks from different starts that are joined into one. */
  readonly networkCount: number;
  readonly epochs: number;
  readonly learningRate: number;
  readonly weightDecay: number;
  readonly batchEvents: number;
  /** Standard deviation of noise on each measure, in spreads of that measure. */
  readonly inputNoise: number;
  readonly labelTarget: number;
  readonly otherTarget: number;
  /** Groups of voices whose events are judged by a frame network that never heard them. */
  readonly foldCount: number;
  /** Changed copies of each clip that events are taken from, beside the clip as it is. */
  readonly augmentedCopies: number;
}

/** What the model of the package is trained with; found by trials on voices held out. */
export const DEFAULT_TRAINING_OPTIONS: TrainingOptions = Object.freeze({
  seed: 1,
  copiedShare: 0.6,
  breathingShare: 0.2,
  breathMouths: 12,
  hardOnsetShare: 0.4,
  frameStep: 2,
  frames: Object.freeze({
    channelCount: 24,
    kernelFrames: 5,
    dilations: Object.freeze([1, 2, 4, 8]),
    epochs: 20,
    learningRate: 0.006,
    warmUpSteps: 50,
    weightDecay: 5e-4,
    batchFrames: 2400,
    chunkFrames: 600,
    augmentedShare: 0.85,
    labelTarget: 0.97,
    otherTarget: 0.006,
    classWeightPower: 0.3,
    mostClassWeight: 4,
  }),
  events: Object.freeze({
    hiddenCount: 12,
    networkCount: 3,
    epochs: 40,
    learningRate: 0.004,
    weightDecay: 1e-3,
    batchEvents: 32,
    inputNoise: 0.15,
    labelTarget: 0.97,
    otherTarget: 0.0075,
    foldCount: 5,
    augmentedCopies: 2,
  }),
});

import { type ConvModel, createConvClassifier } from '../../src/detection/conv-classifier.js';
import { augment } from './augment.js';
import { collectEvents, type LabelledEvent } from './collect-events.js';
import { trainConvModel } from './conv-trainer.js';
import { createRandom } from './random.js';
import type { TrainingClip } from './training-clip.js';
import type { TrainingOptions } from './training-options.js';

/** One network to train, and the clips whose events it is to find afterwards, by their place in the list of clips. */
export interface TrainingJob {
  readonly name: string;
  readonly train: readonly number[];
  readonly collect: readonly number[];
  readonly seed: number;
  /** The network, where it is there already and only events are wanted. */
  readonly frames?: ConvModel | undefined;
}

/** What a job gives. */
export interface TrainingResult {
  readonly frames: ConvModel;
  readonly events: readonly LabelledEvent[];
}

/** Does one job. Depends on nothing but what is handed in, so jobs may run anywhere and in any order. */
export function runTrainingJob(
  clips: readonly TrainingClip[],
  job: TrainingJob,
  options: TrainingOptions,
  report: (text: string) => void,
): TrainingResult {
  const pick = (places: readonly number[]): TrainingClip[] => places.map((i) => clips[i] as TrainingClip);
  const network = job.frames ?? trained(pick(job.train), job, options, report);
  const frames = { ...network, frameStep: options.frameStep };
  const classifier = createConvClassifier(frames);
  const random = createRandom(job.seed);
  const events = pick(job.collect).flatMap((clip) => {
    const copies = Array.from({ length: options.events.augmentedCopies }, () => augment(clip, random));
    return [Float64Array.from(clip.powers), ...copies].flatMap((powers) =>
      collectEvents(clip, powers, classifier),
    );
  });
  if (job.collect.length > 0) report(`${job.name}: ${events.length} events`);
  return { frames, events };
}

function trained(
  clips: readonly TrainingClip[],
  { name, seed }: TrainingJob,
  { frames: options }: TrainingOptions,
  report: (text: string) => void,
): ConvModel {
  let started = performance.now();
  return trainConvModel(clips, options, seed, ({ epoch, loss }) => {
    const seconds = ((performance.now() - started) / 1000).toFixed(1);
    started = performance.now();
    report(`${name}: epoch ${epoch} of ${options.epochs}, loss ${loss.toFixed(4)}, ${seconds} s`);
  });
}

import {
  checkDoubles,
  checkInteger,
  checkNumber,
  checkSampleRate,
  rangeError,
  typeError,
} from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { checkEngine, type Engine } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import { FRAME_CLASSES, HOP_SECONDS, INPUT_COUNT, MOST_FRAME_STEP } from './detection-scale.js';
import { EVENT_CLASSES, type EventModel } from './event-classifier.js';
import { EVENT_MEASURE_COUNT } from './event-measures.js';
import type { FrameClassifier } from './frame-classifier.js';

/** Settings of the detector. All but the sample rate have a default: DEFAULT_DETECTION_OPTIONS. */
export interface DetectionOptions {
  /** Samples per second, 8,000 to 192,000. No default: nobody can guess it. */
  readonly sampleRateHz: number;
  /**
   * Regions below this confidence are left out; 0 to 1. Default 0.8: above it one find in fifty
   * lies where no consonant is in voices that were heard in training (docs/accuracy.md), one in 23 in others (docs/held-out.md); from
   * 0.3 to 0.8 two in five do. Lower it (0.3, say) to see the
   * uncertain ones and step through them.
   */
  readonly minConfidence?: number;
  /**
   * A stretch of noise begins where the probability of noise (anything but voice and silence) reaches this; 0 to 1.
   * Default 0.5, the even chance. Lower finds softer consonants and more of what is none.
   */
  readonly enterProbability?: number;
  /**
   * A stretch goes on while the probability stays at or above this; at most `enterProbability`. Default 0.3: lower
   * than the first threshold, so that one weak frame does not cut an s in two.
   */
  readonly leaveProbability?: number;
  /**
   * Parts of one kind inside a stretch that are shorter than this join their neighbour, in seconds. Default 0.021
   * (four frames): a noise under 14–20 ms is heard as a stop, not as a sound of its own.
   */
  readonly leastPartSeconds?: number;
  /** Regions shorter than this are left out, in seconds. Default 0.01: a released p or k lasts about that. */
  readonly leastDurationSeconds?: number;
  /** Judges frames. Default: the model of this package. */
  readonly classifier?: FrameClassifier;
  /**
   * Judges whole events. Default: the model of this package with its own classifier, none with a classifier of
   * yours; then the mean probabilities of your classifier stand for its answer.
   */
  readonly eventModel?: EventModel | null;
  /**
   * Does the inner loops: `simdEngine` of `lenition/simd` makes one with which it takes about two thirds of the time. Default: plain JavaScript with
   * fft.js. Kinds and edges are the same with any, confidences to 1e-9.
   */
  readonly engine?: Engine | null;
}

/** Default settings of the detector. */
export const DEFAULT_DETECTION_OPTIONS: Readonly<
  Required<Omit<DetectionOptions, 'sampleRateHz' | 'classifier' | 'eventModel' | 'engine'>>
> = Object.freeze({
  minConfidence: 0.8,
  enterProbability: 0.5,
  leaveProbability: 0.3,
  leastPartSeconds: 4 * HOP_SECONDS,
  leastDurationSeconds: 0.01,
});

/** Settings that have been checked and filled in. */
export type DetectionSettings = Readonly<
  Required<Omit<DetectionOptions, 'classifier' | 'eventModel' | 'engine'>> &
    Pick<DetectionOptions, 'classifier' | 'eventModel' | 'engine'>
>;

/** Checks the options of the function that is named and fills in the defaults. */
export function detectionSettings(functionName: string, options: DetectionOptions): DetectionSettings {
  const settings = checkedOptions(functionName, DEFAULT_DETECTION_OPTIONS, options, [
    'sampleRateHz',
    'classifier',
    'eventModel',
    'engine',
  ]) as DetectionSettings;
  checkSampleRate(functionName, settings.sampleRateHz);
  checkNumber(functionName, 'minConfidence', settings.minConfidence, 0, 1);
  checkNumber(functionName, 'enterProbability', settings.enterProbability, 0.01, 1);
  checkNumber(functionName, 'leaveProbability', settings.leaveProbability, 0.005, settings.enterProbability);
  checkNumber(functionName, 'leastPartSeconds', settings.leastPartSeconds, 0, 1);
  checkNumber(functionName, 'leastDurationSeconds', settings.leastDurationSeconds, 0, 1);
  if (settings.classifier !== undefined) checkClassifier(functionName, settings.classifier);
  if (settings.eventModel) checkEventModel(functionName, settings.eventModel);
  checkEngine(functionName, settings.engine);
  return settings;
}

function checkClassifier(functionName: string, classifier: FrameClassifier): void {
  if (typeof classifier?.classify !== 'function')
    throw typeError(functionName, 'classifier.classify', 'must be a function', classifier?.classify);
  if (classifier.inputCount !== INPUT_COUNT)
    throw rangeError(functionName, 'classifier.inputCount', `must be ${INPUT_COUNT}`, classifier.inputCount);
  const { contextFrames, frameStep = 1 } = classifier;
  checkInteger(functionName, 'classifier.contextFrames', contextFrames, 0, 400);
  checkInteger(functionName, 'classifier.frameStep', frameStep, 1, MOST_FRAME_STEP);
  if (contextFrames % frameStep !== 0)
    throw rangeError(
      functionName,
      'classifier.frameStep',
      `must divide ${contextFrames}, its context`,
      frameStep,
    );
}

function checkEventModel(functionName: string, model: EventModel): void {
  const { measureCount, hiddenCount } = model;
  if (measureCount !== EVENT_MEASURE_COUNT)
    throw rangeError(functionName, 'eventModel.measureCount', `must be ${EVENT_MEASURE_COUNT}`, measureCount);
  checkInteger(functionName, 'eventModel.hiddenCount', hiddenCount, 1, 1000);
  const weightCount = (measureCount + 1) * hiddenCount + (hiddenCount + 1) * EVENT_CLASSES.length;
  const lengths = { means: measureCount, spreads: measureCount, weights: weightCount };
  for (const [name, length] of Object.entries(lengths)) {
    const values = model[name as keyof typeof lengths];
    checkDoubles(functionName, `eventModel.${name}`, values, length);
    const odd = values.findIndex((value) => !Number.isFinite(value));
    if (odd >= 0) throw rangeError(functionName, `eventModel.${name}[${odd}]`, 'must be finite', values[odd]);
  }
}

/** How far the probabilities of a frame may be from a sum of 1: single precision and then some. */
const SUM_SLACK = 1e-3;

/** Throws unless a classifier has written probabilities that sum to 1: a broken one must not pass unseen. */
export function checkTrack(functionName: string, track: Doubles, from: number, to: number): void {
  const classes = FRAME_CLASSES.length;
  for (let row = from; row < to; row += classes) {
    let sum = 0;
    for (let k = 0; k < classes; k++) {
      const p = track[row + k] as number;
      if (!(p >= 0 && p <= 1))
        throw rangeError(functionName, `classifier output (${FRAME_CLASSES[k]})`, 'must be a probability', p);
      sum += p;
    }
    if (Math.abs(sum - 1) > SUM_SLACK)
      throw rangeError(functionName, 'classifier output', 'must sum to 1 for each frame', sum);
  }
}

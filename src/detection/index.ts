/**
 * Finds sibilants, fricatives, bursts and breaths, and also noises, thumps, mouth clicks and cymbals, as regions with a kind and a confidence.
 *
 * @packageDocumentation
 */
export { type BandwidthWarning, bandwidthWarnings } from './bandwidth-warnings.js';
export { createConsonantModel } from './consonant-model.js';
export { type ConvModel, convWeightCount, createConvClassifier } from './conv-classifier.js';
export {
  type ConsonantDetector,
  createConsonantDetector,
  DETECTION_LATENCY_SECONDS,
} from './create-consonant-detector.js';
export { type CymbalOptions, DEFAULT_CYMBAL_OPTIONS } from './cymbal-options.js';
export { detectConsonants } from './detect-consonants.js';
export { detectCymbals } from './detect-cymbals.js';
export { DEFAULT_DETECTION_OPTIONS, type DetectionOptions } from './detection-options.js';
export { FRAME_CLASSES, type FrameClass } from './detection-scale.js';
export { EVENT_CLASSES, type EventClass, type EventModel } from './event-classifier.js';
export { type BreathOptions, DEFAULT_BREATH_OPTIONS, findBreaths } from './find-breaths.js';
export { findBreathsAndNoise } from './find-breaths-and-noise.js';
export { type ClickOptions, DEFAULT_CLICK_OPTIONS, findClicks } from './find-clicks.js';
export { DEFAULT_NOISE_OPTIONS, findNoise, type NoiseOptions } from './find-noise.js';
export { DEFAULT_THUMP_OPTIONS, findThumps, THUMP_LABEL, type ThumpOptions } from './find-thumps.js';
export type { FrameClassifier } from './frame-classifier.js';
export {
  createThresholdClassifier,
  DEFAULT_THRESHOLD_RULE,
  type ThresholdRule,
} from './threshold-classifier.js';

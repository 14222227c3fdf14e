import { checkFields, checkNumber, checkObject } from '../signal/check.js';
import type { Doubles } from '../signal/samples.js';
import { BAND_COUNT, FIRST_HIGH_BAND, FRAME_CLASSES, INPUT_COUNT } from './detection-scale.js';
import type { FrameClassifier } from './frame-classifier.js';

/** Settings of the plain rule. */
export interface ThresholdRule {
  /** How far the bands above 3 kHz must stand above the low bands, both relative to this voice, in dB. */
  readonly contrastDb: number;
  /** Least mean level above 3 kHz relative to this voice's own, in dB. */
  readonly leastHighDb: number;
}

/** Chosen by eye on a few bars of singing, not tuned: the rule is a reference, the model is the detector. */
export const DEFAULT_THRESHOLD_RULE: ThresholdRule = Object.freeze({ contrastDb: 18, leastHighDb: 2 });

/**
 * A frame classifier of two thresholds: sibilant where the high bands stand above both the low bands and this
 * voice's own high bands. It knows no other kind. Use it to see what the model adds, or as a pattern for your own.
 *
 * @param rule thresholds in dB; DEFAULT_THRESHOLD_RULE
 * @throws TypeError or RangeError where a threshold is no finite number
 * @example
 * import { createThresholdClassifier } from 'lenition/detection';
 * const classifier = createThresholdClassifier();
 * const probabilities = new Float64Array(6);
 * // Low bands 20 dB under this voice's own, high bands 10 dB over it: an s.
 * const s = Float64Array.from({ length: 24 }, (_, i) => (i < 4 ? -2 : i >= 9 && i < 16 ? 1 : 0));
 * classifier.classify(s, 1, probabilities);
 * probabilities[2]! > 0.9; // => true
 */
export function createThresholdClassifier(rule: ThresholdRule = DEFAULT_THRESHOLD_RULE): FrameClassifier {
  checkObject('createThresholdClassifier', 'rule', rule);
  checkFields('createThresholdClassifier', 'rule', rule, Object.keys(DEFAULT_THRESHOLD_RULE));
  checkNumber('createThresholdClassifier', 'contrastDb', rule.contrastDb);
  checkNumber('createThresholdClassifier', 'leastHighDb', rule.leastHighDb);
  const { contrastDb, leastHighDb } = rule;
  const classes = FRAME_CLASSES.length;
  return Object.freeze({
    inputCount: INPUT_COUNT,
    contextFrames: 0,
    classify(inputs: Doubles, rowCount: number, probabilities: Doubles): void {
      for (let row = 0; row < rowCount; row++) {
        const at = row * INPUT_COUNT;
        const high = meanOf(inputs, at + FIRST_HIGH_BAND, at + BAND_COUNT) * 10;
        const low = meanOf(inputs, at, at + 4) * 10;
        const sibilant = step(high - low - contrastDb) * step(high - leastHighDb);
        probabilities.fill(0, row * classes, (row + 1) * classes);
        probabilities[row * classes] = 1 - sibilant;
        probabilities[row * classes + 2] = sibilant;
      }
    },
  });
}

function meanOf(values: Doubles, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i] as number;
  return sum / (to - from);
}

/** A soft step, 3 dB wide, so that a frame at a threshold says that it is unsure. */
function step(dB: number): number {
  return 1 / (1 + Math.exp(-dB / 1.5));
}

import type { Engine } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { contextFrames, convLayout } from './conv-layout.js';
import { FRAME_CLASSES } from './detection-scale.js';
import { createRowScores } from './row-scores.js';
import { softmaxRows } from './softmax-rows.js';
import { spreadRows } from './spread-rows.js';

/** A network for frames that takes rows as they come. */
export interface RowNetwork {
  /** The answer to a row comes when so many more were taken. */
  readonly contextFrames: number;
  /** Rows are taken in multiples of this. */
  readonly frameStep: number;
  /** The most rows that may be taken at once. */
  readonly mostRows: number;
  /**
   * Takes `rowCount` rows of `inputs` from position `at` on, and leaves as many answers in `probabilities`: those to the rows
   * contextFrames before. The first 2·contextFrames answers rest on rows that never were. Rows 0, frameStep and so on are judged.
   */
  take(inputs: Doubles, at: number, rowCount: number): void;
  readonly probabilities: Doubles;
  /** Says that no row follows. */
  end(): void;
}

const CLASSES = FRAME_CLASSES.length;

/** The network of `createConvClassifier` over a stream: the same numbers, bit for bit. */
export function createRowNetwork(model: ConvModel, engine?: Engine | null): RowNetwork {
  const parts = convLayout(model);
  const { frameStep } = parts;
  const network = (engine?.createRowScores ?? createRowScores)(parts);
  const { scores, mostRows } = network;
  const own = { contextFrames: contextFrames(model), frameStep, mostRows, end: network.end };
  if (frameStep === 1)
    return {
      ...own,
      probabilities: scores,
      take(inputs, at, rowCount) {
        network.take(inputs, at, rowCount);
        softmaxRows(scores, rowCount, CLASSES);
      },
    };
  const probabilities = new Float64Array(mostRows * CLASSES);
  // The last answer of the network, and after it those that are new.
  const asked = new Float64Array((mostRows / frameStep + 1) * CLASSES);
  return {
    ...own,
    probabilities,
    take(inputs, at, rowCount) {
      network.take(inputs, at, rowCount);
      const count = rowCount / frameStep;
      softmaxRows(scores, count, CLASSES);
      asked.set(scores.subarray(0, count * CLASSES), CLASSES);
      spreadRows(probabilities, asked, rowCount, frameStep, CLASSES);
      asked.copyWithin(0, count * CLASSES, (count + 1) * CLASSES);
    },
  };
}

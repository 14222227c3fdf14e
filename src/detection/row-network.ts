import type { Engine } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { contextFrames, convLayout } from './conv-layout.js';
import { FRAME_CLASSES } from './detection-scale.js';
import { createRowScores } from './row-scores.js';
import { softmaxRows } from './softmax-rows.js';

/** A network for frames that takes rows as they come. */
export interface RowNetwork {
  /** The answer to a row comes when so many more were taken. */
  readonly contextFrames: number;
  /** The most rows that may be taken at once. */
  readonly mostRows: number;
  /**
   * Takes `rowCount` rows of `inputs` from position `at` on, and leaves as many answers in `probabilities`: those to the rows
   * contextFrames before. The first 2·contextFrames answers rest on rows that never were.
   */
  take(inputs: Doubles, at: number, rowCount: number): void;
  readonly probabilities: Doubles;
  /** Says that no row follows. */
  end(): void;
}

/** The network of `createConvClassifier` over a stream: the same numbers, bit for bit. */
export function createRowNetwork(model: ConvModel, engine?: Engine | null): RowNetwork {
  const network = (engine?.createRowScores ?? createRowScores)(convLayout(model));
  const { scores, mostRows } = network;
  return {
    contextFrames: contextFrames(model),
    mostRows,
    probabilities: scores,
    end: network.end,
    take(inputs, at, rowCount) {
      network.take(inputs, at, rowCount);
      softmaxRows(scores, rowCount, FRAME_CLASSES.length);
    },
  };
}

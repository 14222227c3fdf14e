import type { Doubles } from '../signal/samples.js';
import type { ConvModel } from './conv-classifier.js';
import { convLayout } from './conv-layout.js';
import { FRAME_CLASSES } from './detection-scale.js';
import { filterInner } from './filter-rows.js';
import { multiplyRowsInto } from './multiply-rows.js';
import { softmaxRows } from './softmax-rows.js';

/** A network for frames that takes rows as they come. */
export interface RowNetwork {
  readonly inputCount: number;
  /** The answer to a row comes when so many more were taken. */
  readonly contextFrames: number;
  /** The most rows that may be taken at once. */
  readonly mostRows: number;
  /**
   * Takes `rowCount` rows of `inputs` from position `at` on, and leaves as many answers in `probabilities`: those to the rows
   * contextFrames before. What comes before the first 2·contextFrames answers rests on rows that never were.
   */
  take(inputs: Doubles, at: number, rowCount: number): void;
  readonly probabilities: Doubles;
}

/** Rows at a time: what a layer reads and writes then stays in the fastest memory. */
const MOST_ROWS = 64;

/**
 * The network of `createConvClassifier` over a stream. Every layer keeps the rows that its filter still reaches, so no row is
 * computed twice, whatever the blocks; the numbers are the same, bit for bit.
 */
export function createRowNetwork(model: ConvModel): RowNetwork {
  const { inputCount, channelCount: width } = model;
  const { entry, entryBias, layers, exit, exitBias, contextFrames } = convLayout(model);
  const classes = FRAME_CLASSES.length;
  const filtered = new Float64Array(MOST_ROWS * width);
  const probabilities = new Float64Array(MOST_ROWS * classes);
  // What goes into each layer, after the rows of it that are kept; last what comes out of the last layer.
  const stages = [...layers.map(({ filter }) => filter.dilation * (filter.kernelFrames - 1)), 0].map(
    (keptRows) => {
      const rows = new Float64Array((keptRows + MOST_ROWS) * width);
      return { kept: keptRows * width, rows, added: rows.subarray(keptRows * width) };
    },
  );
  type Stage = (typeof stages)[number];

  return { inputCount, contextFrames, mostRows: MOST_ROWS, take, probabilities };

  function take(inputs: Doubles, at: number, rowCount: number): void {
    const taken = inputs.subarray(at, at + rowCount * inputCount);
    const first = stages[0] as Stage;
    multiplyRowsInto(first.added, taken, entry, entryBias, rowCount, inputCount, width, 'rectify');
    const count = rowCount * width;
    for (const [l, { filter, taps, mix, bias }] of layers.entries()) {
      const { rows, kept } = stages[l] as Stage;
      const { added } = stages[l + 1] as Stage;
      filterInner(filtered, rows, taps, rowCount, filter);
      // The row in the middle of the filter goes on beside it.
      added.set(rows.subarray(kept / 2, kept / 2 + count));
      multiplyRowsInto(added, filtered, mix, bias, rowCount, width, width, 'addRectified');
      rows.copyWithin(0, count, count + kept);
    }
    const { rows } = stages[layers.length] as Stage;
    multiplyRowsInto(probabilities, rows, exit, exitBias, rowCount, width, classes);
    softmaxRows(probabilities, rowCount, classes);
  }
}

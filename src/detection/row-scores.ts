import type { NetworkParts, RowScores } from '../signal/engine.js';
import type { Doubles } from '../signal/samples.js';
import { copyRows } from './copy-rows.js';
import { filterInner } from './filter-rows.js';
import { multiplyRowsInto } from './multiply-rows.js';

/** What a network is computed with; arrays come from `allocate`, so that they can lie where the loops want them. */
export interface RowKernels {
  readonly allocate: (length: number) => Doubles;
  /** Puts numbers that stay as they are where the loops want them. */
  readonly place: (values: Doubles) => Doubles;
  readonly multiplyRowsInto: typeof multiplyRowsInto;
  readonly filterInner: typeof filterInner;
}

const PLAIN: RowKernels = {
  allocate: (length) => new Float64Array(length),
  place: (values) => values,
  multiplyRowsInto,
  filterInner,
};

/** Rows at a time, or fewer by less than a step: what a layer reads and writes then stays in the fastest memory, and a stream holds little. */
export const MOST_ROWS = 32;

/**
 * The network of `createConvClassifier` over a stream, up to the softmax: a row of scores for every `frameStep` rows taken. Every layer
 * keeps the rows that its filter still reaches, so no row is computed twice, whatever the blocks; the numbers are the same, bit for bit.
 */
export function createRowScores(parts: NetworkParts, kernels: RowKernels = PLAIN): RowScores {
  const { inputCount, width, classCount, frameStep, waitingRows } = parts;
  const { allocate, place } = kernels;
  const entry = place(parts.entry);
  const entryBias = place(parts.entryBias);
  const layers = parts.layers.map(({ filter, taps, mix, bias }) => ({
    filter,
    taps: place(taps),
    mix: place(mix),
    bias: place(bias),
  }));
  const exit = place(parts.exit);
  const exitBias = place(parts.exitBias);
  const taken = allocate(MOST_ROWS * inputCount);
  const filtered = allocate(MOST_ROWS * width);
  const scores = allocate(MOST_ROWS * classCount);
  const reaches = layers.map(({ filter }) => filter.dilation * (filter.kernelFrames - 1));
  // What goes into each layer, after the rows of it that are kept; last what comes out of the last layer.
  const stages = [...reaches, 0].map((reach, l) => {
    const keptRows = l === 0 ? reach + waitingRows : reach;
    const rows = allocate((keptRows + MOST_ROWS) * width);
    return {
      kept: keptRows * width,
      rows,
      middle: rows.subarray((reach / 2) * width),
      added: rows.subarray(keptRows * width),
    };
  });
  type Stage = (typeof stages)[number];

  return { mostRows: MOST_ROWS - (MOST_ROWS % frameStep), scores, take, end: () => {} };

  function take(inputs: Doubles, at: number, rowCount: number): void {
    taken.set(inputs.subarray(at, at + rowCount * inputCount));
    const { added } = stages[0] as Stage;
    kernels.multiplyRowsInto(added, taken, entry, entryBias, rowCount, inputCount, width, 'rectify');
    let count = rowCount;
    for (const [l, { filter, taps, mix, bias }] of layers.entries()) {
      const { rows, kept, middle } = stages[l] as Stage;
      const next = (stages[l + 1] as Stage).added;
      const before = count * width;
      count /= filter.step;
      kernels.filterInner(filtered, rows, taps, count, filter);
      // The row in the middle of the filter goes on beside it.
      copyRows(next, middle, count, width, filter.step);
      kernels.multiplyRowsInto(next, filtered, mix, bias, count, width, width, 'addRectified');
      rows.copyWithin(0, before, before + kept);
    }
    const { rows } = stages[layers.length] as Stage;
    kernels.multiplyRowsInto(scores, rows, exit, exitBias, count, width, classCount);
  }
}

import type { BiquadCoefficients } from './biquad-design.js';
import { typeError } from './check.js';
import type { Doubles, Samples } from './samples.js';

/**
 * Another way to do the inner loops of `analyse` and `detectConsonants`: what `simdEngine` of `lenition/simd` makes. Handed in as the
 * option `engine`. Results agree with those without one to 1e-9 of a frame's power; kinds and edges of regions are the same.
 *
 * One engine serves any number of calls and streams, one after another or by turns. Its methods are for the library alone: they may
 * change in any version.
 */
export interface Engine {
  /** What runs: WebAssembly, or the same sums in JavaScript where that may not. The results are the same bits. */
  readonly name: 'webassembly' | 'javascript';
  /** Why it is not WebAssembly, as a sentence for a person; null where it is. */
  readonly problem: string | null;
  /**
   * Measures pairs of frames.
   *
   * @internal
   */
  readonly createPairMeter: (window: Doubles, fftSize: number, binCount: number) => PairMeter;
  /**
   * Runs a network over rows.
   *
   * @internal
   */
  readonly createRowScores: (parts: NetworkParts) => RowScores;
  /**
   * Sums the power of a filtered signal.
   *
   * @internal
   */
  readonly createBlockPowers: (coefficients: BiquadCoefficients, channelCount: number) => BlockPowers;
  /**
   * Lends arrays to streams, so that not each of many short clips needs fresh memory.
   *
   * @internal
   */
  readonly lender: ArrayLender;
}

/** Lends arrays of numbers. */
export interface ArrayLender {
  /** An array of that length; what it holds is anybody's guess. */
  borrow(length: number): Doubles;
  /** Takes an array back that nobody uses any more. */
  giveBack(array: Doubles): void;
}

/** Power spectra of windowed frames, two by one transform. What it holds is good until any meter of the engine measures again. */
export interface PairMeter {
  /** Powers |X[k]|² of the first frame in bins 0 to `binCount` − 1. */
  readonly first: Doubles;
  /** Those of the second frame. */
  readonly second: Doubles;
  /** Says which samples are measured from now on. They must not change until others are named. */
  begin(samples: Samples): void;
  /** Measures the frames that start at these places, the second not before the first; both lie inside the samples. */
  measure(firstStart: number, secondStart: number): void;
}

/** A convolutional network over time, taken apart: `createConvClassifier` says what it computes. */
export interface NetworkParts {
  readonly inputCount: number;
  readonly width: number;
  readonly classCount: number;
  /** Of so many rows it answers for one: the product of its layers' steps. */
  readonly frameStep: number;
  /** Rows that wait before the first layer, so that a stream answers for row 0, and from there on by its step. */
  readonly waitingRows: number;
  readonly entry: Doubles;
  readonly entryBias: Doubles;
  readonly layers: readonly NetworkLayer[];
  readonly exit: Doubles;
  readonly exitBias: Doubles;
}

/** One layer of a network. */
export interface NetworkLayer {
  readonly filter: TimeFilter;
  readonly taps: Doubles;
  readonly mix: Doubles;
  readonly bias: Doubles;
}

/**
 * A filter of its own for every channel over time: taps `dilation` rows apart, rows beyond the ends are 0. It answers for every
 * `step`th row.
 */
export interface TimeFilter {
  readonly channelCount: number;
  readonly kernelFrames: number;
  readonly dilation: number;
  readonly step: number;
}

/** A network over a stream of rows, up to its last product. */
export interface RowScores {
  /** The most rows that may be taken at once. */
  readonly mostRows: number;
  /**
   * Takes `rowCount` rows of `inputs` from position `at` on, a multiple of the network's `frameStep`, and leaves a row in `scores` for
   * one in `frameStep` of the rows that its context lies before.
   */
  take(inputs: Doubles, at: number, rowCount: number): void;
  readonly scores: Doubles;
  /** Says that no row follows. */
  end(): void;
}

/** Sums of squares of a filtered signal, block by block. */
export interface BlockPowers {
  /** Filters blocks of one channel from place `from` on, and adds the sum of each to `out`, from place `at` on. */
  add(
    out: Doubles,
    at: number,
    samples: Samples,
    from: number,
    blockSamples: number,
    blockCount: number,
    channel: number,
  ): void;
}

/** Throws unless `value` is an engine, or undefined or null: none. */
export function checkEngine(
  functionName: string,
  value: Engine | null | undefined,
): asserts value is Engine | null | undefined {
  if (value === undefined || value === null) return;
  const { createPairMeter, createRowScores, createBlockPowers, lender } = value;
  for (const method of [createPairMeter, createRowScores, createBlockPowers, lender?.borrow])
    if (typeof method !== 'function')
      throw typeError(functionName, 'engine', 'must come from simdEngine of lenition/simd', value);
}

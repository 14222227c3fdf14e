import { createBlockPowers } from '../detection/block-powers.js';
import { createRowScores } from '../detection/row-scores.js';
import type { Engine } from '../signal/engine.js';
import { createPairMeter } from '../signal/pair-meter.js';
import { createArrayLender } from './array-lender.js';
import { compileKernels } from './compile-kernels.js';
import { createKernelArea } from './kernel-memory.js';
import { createScalarPairMeter } from './scalar-pair-meter.js';
import { BLOCK_AREA_DOUBLES, createSimdBlockPowers } from './simd-block-powers.js';
import { createSimdPairMeter, LEAST_POINTS, MOST_POINTS, PAIR_AREA_DOUBLES } from './simd-pair-meter.js';
import { createSimdRowScores, fitsKernels, NETWORK_AREA_DOUBLES } from './simd-row-scores.js';
import { createTwiddles, type Twiddles } from './twiddles.js';

/**
 * Makes an engine for the inner loops of `detectConsonants`, `createConsonantDetector` and `analyse`: a transform of its own, the
 * detector's network and the noise envelope as WebAssembly with vectors (SIMD) of doubles. Finding takes about two thirds of the time with
 * it (docs/performance.md). Make one and hand it to every call and stream; it holds 0.7 MB, and streams may take turns.
 *
 * Where WebAssembly is absent or may not be compiled (a page whose content security policy lacks `'wasm-unsafe-eval'`, an old browser),
 * the same sums are done in JavaScript: the results are the same bits, only slower. `name` and `problem` say which it is.
 *
 * Kinds and edges of regions are the same as without an engine, confidences to 1e-9, features to 1e-9 of a frame's power: the
 * transform adds in another order than fft.js. Frames of over 4096 samples go through fft.js as without.
 *
 * @returns A frozen engine.
 * @see Swarztrauber, "FFT algorithms for vector computers", 1984 (the transform that needs no bit reversal, named after Stockham there;
 * from memory).
 * @example
 * import { detectConsonants } from 'lenition';
 * import { simdEngine } from 'lenition/simd';
 * const engine = simdEngine();
 * engine.problem; // => null
 * detectConsonants(new Float32Array(48000), { sampleRateHz: 48000, engine }).regions.length; // => 0
 */
export function simdEngine(): Engine {
  const pairStart = 0;
  const networkStart = 8 * PAIR_AREA_DOUBLES;
  const blockStart = networkStart + 8 * NETWORK_AREA_DOUBLES;
  const kernels = compileKernels(blockStart + 8 * BLOCK_AREA_DOUBLES);
  const factors = new Map<number, Twiddles>();
  const twiddlesOf = (points: number): Twiddles => {
    const made = factors.get(points) ?? createTwiddles(points);
    factors.set(points, made);
    return made;
  };
  const lender = createArrayLender();
  const takes = (points: number): boolean => points >= LEAST_POINTS && points <= MOST_POINTS;
  if (typeof kernels === 'string')
    return Object.freeze({
      name: 'javascript',
      problem: kernels,
      createPairMeter: (window, points, binCount) =>
        takes(points)
          ? createScalarPairMeter(window, twiddlesOf(points), points, binCount)
          : createPairMeter(window, points, binCount),
      createRowScores,
      createBlockPowers,
      lender,
    } satisfies Engine);
  const pairs = createKernelArea(kernels, pairStart, PAIR_AREA_DOUBLES);
  const network = createKernelArea(kernels, networkStart, NETWORK_AREA_DOUBLES);
  const blocks = createKernelArea(kernels, blockStart, BLOCK_AREA_DOUBLES);
  return Object.freeze({
    name: 'webassembly',
    problem: null,
    createPairMeter: (window, points, binCount) =>
      takes(points)
        ? createSimdPairMeter(pairs, window, twiddlesOf(points), points, binCount)
        : createPairMeter(window, points, binCount),
    createRowScores: (parts) =>
      fitsKernels(parts) ? createSimdRowScores(network, parts) : createRowScores(parts),
    createBlockPowers: (coefficients, channelCount) =>
      createSimdBlockPowers(blocks, coefficients, channelCount),
    lender,
  } satisfies Engine);
}

/**
 * The inner loops of finding and analysing as WebAssembly with vectors: the option `engine` of `detectConsonants`, `createConsonantDetector` and `analyse`.
 *
 * @packageDocumentation
 */
export type { Engine } from '../signal/engine.js';
export { simdEngine } from './simd-engine.js';

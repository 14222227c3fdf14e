/**
 * Finds the harsh consonants of a recorded voice as editable regions, measures them, and turns them down.
 *
 * Pictures stay in `lenition/picture`: they need a PNG encoder, which has no place in an audio worklet.
 *
 * @packageDocumentation
 */
export * from './detection/index.js';
export * from './evaluation/index.js';
export * from './exchange/index.js';
export * from './features/index.js';
export * from './forecast/index.js';
export * from './gain/index.js';
export * from './levels/index.js';
export * from './regions/index.js';
export * from './signal/index.js';
export * from './takes/index.js';

import type { JsonShape } from './json-shape.js';

/** The name that a chain file gives itself. */
export const CHAIN_FORMAT = 'lenition.chain';

/** The version of the chain file that this library writes and reads. */
export const CHAIN_FORMAT_VERSION = 1;

/** Longest chain file, in UTF-16 code units: far more than the largest chain needs. */
export const MOST_CHARACTERS_IN_CHAIN_FILE: number = 2 ** 20;

/** Most objects and arrays in a chain file, open at once and altogether. Version 1 nests 5 deep and has at most 1100. */
export const MOST_CHAIN_SHAPE: JsonShape = Object.freeze({ depth: 32, containers: 10_000 });

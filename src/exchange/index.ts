/**
 * Regions and gain in open forms, out and in. What comes from outside never throws: a reader returns the value or a list of problems.
 *
 * @packageDocumentation
 */
export { CHAIN_FORMAT, CHAIN_FORMAT_VERSION } from './chain-format.js';
export { chainFromJson } from './chain-from-json.js';
export { chainToJson } from './chain-to-json.js';
export { HISTORY_FORMAT, HISTORY_FORMAT_VERSION } from './history-format.js';
export { historyFromJson } from './history-from-json.js';
export { historyToJson } from './history-to-json.js';
export { REGION_FORMAT, REGION_FORMAT_VERSION } from './region-format.js';
export { regionsFromJson } from './regions-from-json.js';
export { regionsToJson } from './regions-to-json.js';
export type { Problem, Result } from './result.js';

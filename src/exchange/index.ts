export { REGION_FORMAT, REGION_FORMAT_VERSION } from './region-format.js';
export { regionsFromJson } from './regions-from-json.js';
export { regionsToJson } from './regions-to-json.js';
export type { Problem, Result } from './result.js';

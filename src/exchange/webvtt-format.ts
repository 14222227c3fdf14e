import type { JsonShape } from './json-shape.js';

/** The name that a WebVTT file of regions gives itself in its first comment. */
export const REGION_WEBVTT_FORMAT = 'lenition.regions.webvtt';

/** The version of the regions in WebVTT that this library writes and reads. */
export const REGION_WEBVTT_FORMAT_VERSION = 1;

/** Most objects and arrays for one region: it has up to 4, nested 3 deep; the rest is room for fields of others. */
export const MOST_CUE_SHAPE: JsonShape = Object.freeze({ depth: 8, containers: 20 });

/**
 * How far a written cue time may lie from its position, in seconds: rounding outwards takes up to a millisecond, and as much
 * again is left to an editor that rounds.
 */
export const WEBVTT_TOLERANCE_SECONDS = 0.002;

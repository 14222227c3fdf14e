import type { Region } from '../regions/region.js';
import type { JsonShape } from './json-shape.js';

/** The name that a region file gives itself. */
export const REGION_FORMAT = 'lenition.regions';

/** The version of the region file that this library writes and reads. */
export const REGION_FORMAT_VERSION = 1;

/** Most regions in one file: ten hours with eight a second. */
export const MOST_REGIONS_IN_FILE = 300_000;

/** Longest region file, in UTF-16 code units: 2^27, which is 447 for each of the most regions. */
export const MOST_CHARACTERS_IN_FILE: number = 2 ** 27;

/**
 * Most objects and arrays in a file, open at once and altogether. Version 1 nests 5 deep and has up to 4 for each region
 * (itself, its band, its reason, the numbers of that); the rest is room for fields that another program added.
 */
export const MOST_JSON_SHAPE: JsonShape = Object.freeze({ depth: 32, containers: 5 * MOST_REGIONS_IN_FILE });

/** The fields of a region in the order in which a file has them; a region without a band has no `band`. */
export const REGION_FIELDS: readonly (keyof Region)[] = Object.freeze([
  'id',
  'kind',
  'onsetSample',
  'offsetSample',
  'startSample',
  'endSample',
  'gainDb',
  'band',
  'confidence',
  'bypassed',
  'locked',
  'fadeInSamples',
  'fadeOutSamples',
  'fadeShape',
  'label',
  'reason',
] as const);

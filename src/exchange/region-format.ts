import type { Region } from '../regions/region.js';

/** The name that a region file gives itself. */
export const REGION_FORMAT = 'lenition.regions';

/** The version of the region file that this library writes and reads. */
export const REGION_FORMAT_VERSION = 1;

/** Most regions in one file: twenty hours with seven a second, and the file still fits into one string. */
export const MOST_REGIONS_IN_FILE = 500_000;

/** Longest region file that is read, in UTF-16 code units: 2^28, half of what one string holds in current engines. */
export const MOST_CHARACTERS_IN_FILE: number = 2 ** 28;

/** The fields of a region in the order in which a file has them. */
export const REGION_FIELDS: readonly (keyof Region)[] = Object.freeze([
  'id',
  'kind',
  'onsetSample',
  'offsetSample',
  'startSample',
  'endSample',
  'gainDb',
  'confidence',
  'bypassed',
  'locked',
  'fadeInSamples',
  'fadeOutSamples',
  'fadeShape',
  'label',
  'reason',
] as const);

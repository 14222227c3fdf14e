import { DEFAULT_REGION } from './insert-region.js';
import type { Region } from './region.js';

/** A field of a region that someone may have decided. */
export type HandField =
  | 'kind'
  | 'startSample'
  | 'endSample'
  | 'gainDb'
  | 'band'
  | 'bypassed'
  | 'locked'
  | 'fadeInSamples'
  | 'fadeOutSamples'
  | 'fadeShape'
  | 'label';

/**
 * The fields of a region that differ from what a detector leaves: a gain, fades, a band, a bypass, a lock, a label, another
 * fade shape, an edge away from the measured one, and a kind that is sure (`setKind` makes the confidence 1) or `custom`.
 */
export function handFields(region: Region): readonly HandField[] {
  const fields: HandField[] = [];
  if (hasHandKind(region)) fields.push('kind');
  if (region.startSample !== region.onsetSample) fields.push('startSample');
  if (region.endSample !== region.offsetSample) fields.push('endSample');
  if (region.gainDb !== 0) fields.push('gainDb');
  if (region.band !== undefined) fields.push('band');
  if (region.bypassed) fields.push('bypassed');
  if (region.locked) fields.push('locked');
  if (region.fadeInSamples !== 0) fields.push('fadeInSamples');
  if (region.fadeOutSamples !== 0) fields.push('fadeOutSamples');
  if (region.fadeShape !== DEFAULT_REGION.fadeShape) fields.push('fadeShape');
  if (region.label !== '') fields.push('label');
  return Object.freeze(fields);
}

/** True where a person has said what it is. */
export function hasHandKind(region: Region): boolean {
  return region.confidence === 1 || region.kind === 'custom';
}

/**
 * A new find with what was decided about it before, edges apart. A gain brings its reason along, a kind the confidence that
 * it was said with. The measured edges are the find's.
 */
export function withHandFields(find: Region, old: Region, fields: readonly HandField[]): Region {
  const carried = fields.filter((field) => field !== 'startSample' && field !== 'endSample');
  const decided = Object.fromEntries(carried.map((field) => [field, old[field]])) as Partial<Region>;
  return {
    ...find,
    ...decided,
    id: old.id,
    reason: fields.includes('gainDb') ? old.reason : find.reason,
    confidence: fields.includes('kind') ? old.confidence : find.confidence,
  };
}

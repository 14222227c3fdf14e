import type { RegionList } from '../../../src/regions/region.js';
import { isUncertain } from './words.js';

/** A cut that may have gone too far, as the worker found it. */
export interface Flag {
  readonly id: number;
  readonly message: string;
}

/** Why a region is worth a listen. */
export interface Note {
  readonly id: number;
  readonly startSample: number;
  readonly text: string;
  readonly isFlag: boolean;
}

/** Flags of cuts that may have gone too far, then finds that are uncertain; each in order of time. */
export function notesOf(list: RegionList, flags: readonly Flag[]): readonly Note[] {
  const starts = new Map(list.regions.map((region) => [region.id, region.startSample]));
  const flagged = flags.flatMap(({ id, message }) => {
    const startSample = starts.get(id);
    // Flags come a moment after an edit: the region may be gone.
    return startSample === undefined ? [] : [{ id, startSample, text: message, isFlag: true }];
  });
  flagged.sort((a, b) => a.startSample - b.startSample);
  const uncertain = list.regions.filter(isUncertain).map(({ id, startSample, kind, confidence }) => ({
    id,
    startSample,
    text: `perhaps ${kind}: confidence ${confidence.toFixed(2)}`,
    isFlag: false,
  }));
  return [...flagged, ...uncertain];
}

import { rangeError } from '../signal/check.js';
import { cutPiece } from './fit-region.js';
import { freezeList } from './freeze-region.js';
import type { Region, RegionList } from './region.js';
import { soundRegion } from './replace-regions.js';

/** A region that did not come through whole when its list was moved or stretched. */
export interface LostRegion {
  /** As it was. */
  readonly region: Region;
  /** `outside`: dropped, nothing of it is left in the clip. `clipped`: a part is. `tooShort`: dropped, under a sample. */
  readonly reason: 'outside' | 'clipped' | 'tooShort';
}

/** A list on a new time axis, and what that cost. */
export interface MovedList {
  /** The list on its new time axis. */
  readonly list: RegionList;
  /** In order of time; empty where every region came through whole. */
  readonly lost: readonly LostRegion[];
}

/** What to do about the clip's end and about locks when a whole list moves. */
export interface MoveOptions {
  /** Length of the new clip, in samples. */
  readonly lengthSamples?: number;
  /** True: locked regions move with the others, and nothing else of them changes. Else a lock is an error. */
  readonly moveLocked?: boolean;
}

/**
 * Every position of a list through `place`, which never runs backwards: edges, measured edges, and the inner ends of the
 * fades. What falls outside of the new clip is cut off or dropped.
 */
export function remapRegions(
  functionName: string,
  list: RegionList,
  place: (sample: number) => number,
  lengthSamples: number,
  moveLocked: boolean,
): MovedList {
  const clip = { ...list, lengthSamples };
  const regions: Region[] = [];
  const lost: LostRegion[] = [];
  for (const region of list.regions) {
    if (region.locked && !moveLocked)
      throw rangeError(
        functionName,
        'list',
        'must hold no locked region unless moveLocked is true',
        region.id,
      );
    const moved = placeRegion(region, place, lengthSamples);
    const start = Math.max(0, moved.startSample);
    const end = Math.min(lengthSamples, moved.endSample);
    const whole = start === moved.startSample && end === moved.endSample;
    if (moved.startSample >= lengthSamples || moved.endSample <= 0) lost.push(lose(region, 'outside'));
    else if (start >= end) lost.push(lose(region, 'tooShort'));
    else {
      if (!whole) lost.push(lose(region, 'clipped'));
      const kept = whole ? moved : cutPiece(moved, start, end);
      regions.push(soundRegion(functionName, kept, clip, list.nextId, 'region'));
    }
  }
  return Object.freeze({ list: freezeList({ ...clip, regions }), lost: Object.freeze(lost) });
}

function placeRegion(region: Region, place: (sample: number) => number, lengthSamples: number): Region {
  const startSample = place(region.startSample);
  const endSample = place(region.endSample);
  // A measured edge may lie outside of its region, and then outside of the clip.
  const measured = (sample: number | null): number | null => {
    const at = sample === null ? -1 : place(sample);
    return at < 0 || at > lengthSamples ? null : at;
  };
  const onsetSample = measured(region.onsetSample);
  const offsetSample = measured(region.offsetSample);
  const apart = onsetSample === null || offsetSample === null || onsetSample < offsetSample;
  return {
    ...region,
    startSample,
    endSample,
    onsetSample: apart ? onsetSample : null,
    offsetSample: apart ? offsetSample : null,
    fadeInSamples: place(region.startSample + region.fadeInSamples) - startSample,
    fadeOutSamples: endSample - place(region.endSample - region.fadeOutSamples),
  };
}

function lose(region: Region, reason: LostRegion['reason']): LostRegion {
  return Object.freeze({ region, reason });
}

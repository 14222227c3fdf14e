import type { RegionKind } from '../regions/region.js';
import type { TakeId } from './take.js';

/** What one take contributes to a group: one noise, of one region or of the pieces that it was split into. */
export interface EventMember {
  /** The take. */
  readonly takeId: TakeId;
  /** Ids in the take's list, in order of time; more than one where the noise was split. */
  readonly regionIds: readonly number[];
  /** Start of the noise on the common time line, in samples. */
  readonly onsetSample: number;
  /** End of the noise on the common time line, in samples, exclusive. */
  readonly endSample: number;
}

/** Events of several takes that belong together: one consonant of the song, as each take sings it. */
export interface EventGroup {
  /** From 1, in order of time. */
  readonly id: number;
  /** Kind of its members. */
  readonly kind: RegionKind;
  /** Earliest onset of its members on the common time line, in samples. */
  readonly startSample: number;
  /** Latest end of its members, in samples, exclusive. */
  readonly endSample: number;
  /** In the order of the takes; one member per take at most. */
  readonly members: readonly EventMember[];
  /** Takes that sound at that time and have no such event. */
  readonly missingTakeIds: readonly TakeId[];
  /** Takes that lie elsewhere in time: not one sample of theirs falls into the group. */
  readonly absentTakeIds: readonly TakeId[];
  /** Latest onset less earliest onset, in seconds; 0 for one member. */
  readonly onsetSpreadSeconds: number;
  /** Latest end less earliest end, in seconds; 0 for one member. */
  readonly endSpreadSeconds: number;
  /** Who begins first. Of equals the lesser id: numbers before names, both rising. */
  readonly firstTakeId: TakeId;
  /** Who begins last; of equals likewise. */
  readonly lastTakeId: TakeId;
  /** Who ends first; of equals likewise. */
  readonly firstToEndTakeId: TakeId;
  /** Who ends last; of equals likewise. */
  readonly lastToEndTakeId: TakeId;
}

/** A total order of ids that does not hang on the order of takes: numbers before names, both rising. */
export function compareIds(a: TakeId, b: TakeId): number {
  if (typeof a !== typeof b) return typeof a === 'number' ? -1 : 1;
  return a < b ? -1 : a > b ? 1 : 0;
}

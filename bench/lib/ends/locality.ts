import { AHEAD_SLOTS, HOP_SECONDS, PAST_SLOTS, SLOT_FRAMES } from '../../../src/detection/detection-scale.js';
import type { LabelledClip } from '../corpus.js';
import { joinFolders } from './choose-clips.js';
import { detectorWithReach, type Reach } from './reach-variant.js';
import { type ConditionScore, scoreCondition } from './score-condition.js';

const SLOT_SECONDS = SLOT_FRAMES * HOP_SECONDS;

/** What a reach of the references gives: each clip by itself, and the clips of a folder as one recording. */
export interface LocalityRow {
  readonly name: string;
  /** Null: of the longest recording and beyond. */
  readonly reach: Reach | null;
  readonly alone: ConditionScore;
  readonly joined: ConditionScore;
}

const REACHES: readonly { readonly name: string; readonly reach: Reach | null }[] = [
  { name: 'half', reach: { pastSlots: Math.round(PAST_SLOTS / 2), aheadSlots: Math.round(AHEAD_SLOTS / 2) } },
  { name: 'as it is', reach: { pastSlots: PAST_SLOTS, aheadSlots: AHEAD_SLOTS } },
  { name: 'short look ahead', reach: { pastSlots: PAST_SLOTS, aheadSlots: Math.round(AHEAD_SLOTS / 6) } },
  { name: 'double', reach: { pastSlots: 2 * PAST_SLOTS, aheadSlots: 2 * AHEAD_SLOTS } },
  { name: 'whole recording', reach: null },
];

/** The detector with references of several reaches, on the same clips. */
export async function localityRows(
  clips: readonly LabelledClip[],
  progress: (text: string) => void,
): Promise<readonly LocalityRow[]> {
  const joined = joinFolders(clips);
  const rows: LocalityRow[] = [];
  const longest = Math.max(...joined.map(({ durationSeconds }) => durationSeconds));
  const all = Math.ceil(longest / SLOT_SECONDS) + 1;
  for (const { name, reach } of REACHES) {
    progress(`reach of the references: ${name}`);
    const detect = await detectorWithReach(reach ?? { pastSlots: all, aheadSlots: all });
    const score = (set: readonly LabelledClip[]): ConditionScore =>
      scoreCondition({ name, change: (clip) => clip }, set, 0, detect);
    rows.push({ name, reach, alone: score(clips), joined: score(joined) });
  }
  return rows;
}

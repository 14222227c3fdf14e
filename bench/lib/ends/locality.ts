import { AHEAD_SLOTS, PAST_SLOTS } from '../../../src/detection/detection-scale.js';
import type { LabelledClip } from '../corpus.js';
import { joinFolders } from './choose-clips.js';
import { detectorWithReach, type Reach } from './reach-variant.js';
import { type ConditionScore, scoreCondition } from './score-condition.js';

/** No recording here has so many slots of 85 ms: three hours. */
const WHOLE = 1 << 17;

/** What a reach of the references gives: each clip by itself, and the clips of a folder as one recording. */
export interface LocalityRow {
  readonly name: string;
  readonly reach: Reach;
  readonly alone: ConditionScore;
  readonly joined: ConditionScore;
}

const REACHES: readonly (Reach & { readonly name: string })[] = [
  {
    name: 'half',
    pastSlots: Math.round(PAST_SLOTS / 2),
    aheadSlots: Math.round(AHEAD_SLOTS / 2),
  },
  { name: 'as it is', pastSlots: PAST_SLOTS, aheadSlots: AHEAD_SLOTS },
  { name: 'short look ahead', pastSlots: PAST_SLOTS, aheadSlots: Math.round(AHEAD_SLOTS / 6) },
  { name: 'double', pastSlots: 2 * PAST_SLOTS, aheadSlots: 2 * AHEAD_SLOTS },
  { name: 'whole recording', pastSlots: WHOLE, aheadSlots: WHOLE },
];

/** The detector with references of several reaches, on the same clips. */
export async function localityRows(
  clips: readonly LabelledClip[],
  progress: (text: string) => void,
): Promise<readonly LocalityRow[]> {
  const joined = joinFolders(clips);
  const rows: LocalityRow[] = [];
  for (const { name, ...reach } of REACHES) {
    progress(`reach of the references: ${name}`);
    const detect = await detectorWithReach(reach);
    const score = (set: readonly LabelledClip[]): ConditionScore =>
      scoreCondition({ name, change: (clip) => clip }, set, 0, detect);
    rows.push({ name, reach, alone: score(clips), joined: score(joined) });
  }
  return rows;
}

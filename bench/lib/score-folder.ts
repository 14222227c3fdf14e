import { type PhoneFigures, phoneFigures } from '../../src/evaluation/phone-figures.js';
import { type PhoneScoring, type PhoneTally, phoneTally } from '../../src/evaluation/phone-tally.js';
import { type MeasuredRegion, type RegionEvent, regionEvents } from '../../src/evaluation/region-events.js';
import type { LabelledClip } from './corpus.js';

/** Anything that finds regions in a clip. It sees the labels too, and must not look at them. */
export type ClipDetector = (clip: LabelledClip) => readonly MeasuredRegion[];

/** A folder's figures and the tallies they come from, clip by clip. */
export interface FolderScore {
  readonly folder: string;
  readonly figures: PhoneFigures;
  readonly tallies: readonly {
    readonly clip: LabelledClip;
    readonly regions: readonly RegionEvent[];
    readonly tally: PhoneTally;
  }[];
}

/** Runs a detector over clips and scores it. */
export function scoreClips(
  folder: string,
  clips: readonly LabelledClip[],
  detect: ClipDetector,
  scoring: Partial<PhoneScoring> = {},
): FolderScore {
  const tallies = clips.map((clip) => {
    const regions = regionEvents(detect(clip), clip.sampleRateHz);
    return { clip, regions, tally: phoneTally(clip.labels, regions, clip.durationSeconds, scoring) };
  });
  return { folder, figures: phoneFigures(tallies.map(({ tally }) => tally)), tallies };
}

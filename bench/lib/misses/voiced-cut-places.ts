import { PHONE_SCORING } from '../../../src/evaluation/phone-tally.js';
import { sharedSeconds, TIME_SLACK_SECONDS } from '../../../src/evaluation/sound-event.js';
import { joinedSpans } from '../../../src/evaluation/time-spans.js';
import type { FolderScore } from '../score-folder.js';
import { soundingCutSeconds } from '../sounding-cut.js';

/** A region that reaches far into vowels, nasals or glides, and how much of that sounds. */
export interface VoicedCutPlace {
  readonly clip: string;
  readonly startSeconds: number;
  readonly kind: string;
  readonly cutSeconds: number;
  readonly soundingSeconds: number;
}

/** Every place behind the voiced sound cut of a folder, in order of clip and time. */
export function voicedCutPlaces({ tallies }: FolderScore): readonly VoicedCutPlace[] {
  return tallies.flatMap(({ clip, tally }) => {
    const runs = joinedSpans(clip.labels.filter(({ phoneClass }) => phoneClass === 'sonorant'));
    return tally.harshPlaces.flatMap(({ region }) => {
      const cutSeconds = runs
        .map((run) => sharedSeconds(region, run))
        .filter((shared) => shared > PHONE_SCORING.voicedReachSeconds + TIME_SLACK_SECONDS)
        .reduce((sum, shared) => sum + shared, 0);
      if (cutSeconds === 0) return [];
      const { startSeconds, label } = region;
      const soundingSeconds = soundingCutSeconds(clip, [region]);
      return [{ clip: clip.name, startSeconds, kind: label ?? '', cutSeconds, soundingSeconds }];
    });
  });
}

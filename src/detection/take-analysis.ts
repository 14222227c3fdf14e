import { channelsOfClip } from '../regions/channels-of-clip.js';
import type { RegionList } from '../regions/region.js';
import { checkFinite } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { findPhrases, type Phrases } from './find-phrases.js';
import { type PauseLevels, pauseLevels } from './pause-sounds.js';
import { type TakeLevels, takeLevels } from './take-levels.js';

/** What the finders of breaths, clicks, thumps and noise read of a take; the same for all of them, since it hangs on the consonants alone. */
export interface TakeAnalysis {
  readonly clip: readonly Samples[];
  readonly sampleRateHz: number;
  readonly levels: TakeLevels;
  readonly phrases: Phrases;
  readonly pauses: PauseLevels;
  /** A length of time in whole frames, to the nearest. */
  readonly frames: (seconds: number) => number;
}

/** Analyses the clip that a list belongs to; throws unless it is as long as the list says and finite throughout. */
export function analyseTake(functionName: string, list: RegionList, channels: Channels): TakeAnalysis {
  const clip = channelsOfClip(functionName, list, channels);
  const { sampleRateHz } = list;
  for (let c = 0; c < clip.length; c++) checkFinite(functionName, `channels[${c}]`, clip[c] as Samples);
  const levels = takeLevels(clip, sampleRateHz);
  const phrases = findPhrases(list, levels);
  return {
    clip,
    sampleRateHz,
    levels,
    phrases,
    pauses: pauseLevels(levels, phrases),
    frames: (seconds) => Math.round((seconds * sampleRateHz) / levels.hopSamples),
  };
}

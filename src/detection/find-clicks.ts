import type { RegionDraft } from '../regions/insert-region.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { regionsBetween } from '../regions/regions-between.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels } from '../signal/samples.js';
import { clickSpans } from './click-spans.js';
import { voiceLevels } from './find-phrases.js';
import { pauseSounds } from './pause-sounds.js';
import { analyseTake, type TakeAnalysis } from './take-analysis.js';

/** Settings of findClicks. */
export interface ClickOptions {
  /** How far a click stands above everything else within 50 ms, above 2 kHz, in dB, 6 to 40. */
  readonly aboveDb?: number;
  /** A click whose peak lies further than this under the voice around it is not heard, in dB, 0 to 80. */
  readonly underVoiceDb?: number;
  /** Longer ones are no clicks, in seconds, 0.001 to 0.02. */
  readonly mostSeconds?: number;
}

/**
 * Defaults of findClicks: 12 dB, which noise of any kind does not reach by chance (its loudest quarter of a millisecond in 100 ms lies some 4 dB
 * above the next); 40 dB, at the level of a soft breath; 8 ms, under the 9 to 19 ms that a burst stays near its greatest (Stevens 1998,
 * from notes on it).
 */
export const DEFAULT_CLICK_OPTIONS: Readonly<Required<ClickOptions>> = Object.freeze({
  aboveDb: 12,
  underVoiceDb: 40,
  mostSeconds: 0.008,
});

/** Time before and after a phrase in which a transient is taken for a release of its first or last consonant. */
const BEFORE_PHRASE_SECONDS = 0.1;
const AFTER_PHRASE_SECONDS = 0.15;
/** Inside a phrase the voice must go on for so long to both sides, no further than this under its usual level: no closure, no release. */
const STEADY_SECONDS = 0.045;
const STEADY_UNDER_DB = 30;
/** Between phrases a sound that stands so far above the floor for longer than this, in seconds, is a noise with all its peaks. */
const NOISE_ABOVE_DB = 10;
const NOISE_SECONDS = 0.17;
const NOISE_JOIN_SECONDS = 0.05;
/** On a voice a click is cut from here up, in Hz: a hole of 2 ms in a vowel would be a click of its own. */
const BAND_LOW_HZ = 1500;
/** A region nearer than this owns the transient. */
const BESIDE_REGION_SECONDS = 0.003;

/**
 * Adds mouth clicks to a list: wide-band transients of a few milliseconds that stand alone, in pauses or where a voice goes on softly.
 *
 * A click is a peak of the power above 2 kHz (quarters of a millisecond) that stands `aboveDb` above everything else within 50 ms on both
 * sides, so it is none of the pulses of a voice, however low; that has fallen by 15 dB within `mostSeconds`; whose own power lies
 * above 2 kHz by 30 % at least; and that lies within `underVoiceDb` of the voice. It is not looked for in or beside listed regions (t and
 * k have releases), in noises between phrases that last longer than 0.17 s (they have peaks: see findNoise), 0.1 s before and 0.15 s after phrases, nor in or beside closures within them. On a voice its region has a band
 * from 1.5 kHz up, so that a cut leaves the vowel below it whole.
 *
 * @param list The regions of the clip, consonants found already; they stay as they are.
 * @param channels The clip, one channel or several; powers are averaged.
 * @param options Thresholds.
 * @returns The list with the clicks, kind 'click', gain 0 (see lowerNoise), confidence 0.5 at the threshold to 0.95 at 12 dB above it (a rule of
 *   thumb, not measured), reason `{ rule: 'findClicks', numbers: { aboveDb } }`. The same list where nothing is found: silence, an empty clip, one
 *   sample, no voice, or a second call.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index) or an option is out
 *   of range; TypeError for the wrong kind of value.
 *
 * Source: common practice, no source; measured on the corpus beside the project and on the demonstration
 * (test/main-job/demonstration-noise.test.ts).
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { findClicks } from 'lenition/detection';
 * const silence = createRegionList({ sampleRateHz: 48000, lengthSamples: 4800 });
 * findClicks(silence, new Float32Array(4800)).regions.length; // => 0
 */
export function findClicks(list: RegionList, channels: Channels, options: ClickOptions = {}): RegionList {
  const rule = checkedOptions('findClicks', DEFAULT_CLICK_OPTIONS, options);
  checkNumber('findClicks', 'aboveDb', rule.aboveDb, 6, 40);
  checkNumber('findClicks', 'underVoiceDb', rule.underVoiceDb, 0, 80);
  checkNumber('findClicks', 'mostSeconds', rule.mostSeconds, 0.001, 0.02);
  return addClicks(list, analyseTake('findClicks', list, channels), rule);
}

/** findClicks with checked settings on an analysis that is there already. */
export function addClicks(list: RegionList, take: TakeAnalysis, rule: Required<ClickOptions>): RegionList {
  const { clip, levels, phrases, pauses, sampleRateHz, frames } = take;
  if (phrases.spans.length === 0) return list;
  const voice = voiceLevels(levels);
  const beside = Math.round(BESIDE_REGION_SECONDS * sampleRateHz);
  // A noise that goes on for longer may well have peaks; they are its own.
  const noises = pauseSounds(levels, pauses, phrases, {
    aboveDb: NOISE_ABOVE_DB,
    joinFrames: frames(NOISE_JOIN_SECONDS),
  }).filter(({ from, to }) => to - from > frames(NOISE_SECONDS));
  const drafts: RegionDraft[] = [];
  for (const { startSample, endSample, peakPower, aboveDb } of clickSpans(clip, { ...rule, sampleRateHz })) {
    const frame = Math.min(
      levels.frameCount - 1,
      Math.round((startSample + endSample) / 2 / levels.hopSamples),
    );
    const heard = 10 ** (-rule.underVoiceDb / 10) * (phrases.voicePowers[frame] as number);
    if (peakPower < heard || isConsonantal(frame)) continue;
    if (noises.some(({ from, to }) => frame >= from && frame < to)) continue;
    if (regionsBetween(list, startSample - beside, endSample + beside).length > 0) continue;
    drafts.push({
      startSample,
      endSample,
      kind: 'click',
      ...(inPhrase(frame) ? { band: { lowHz: BAND_LOW_HZ, highHz: sampleRateHz / 2 } } : {}),
      onsetSample: startSample,
      offsetSample: endSample,
      confidence: 0.5 + 0.45 * Math.min(1, (aboveDb - rule.aboveDb) / 12),
      reason: { rule: 'findClicks', numbers: { aboveDb } },
    });
  }
  return drafts.length === 0 ? list : insertRegions(list, drafts);

  function inPhrase(frame: number): boolean {
    return phrases.spans.some(({ from, to }) => frame >= from && frame < to);
  }

  /** Whether a release could lie here. */
  function isConsonantal(frame: number): boolean {
    const before = frames(BEFORE_PHRASE_SECONDS);
    const after = frames(AFTER_PHRASE_SECONDS);
    const phrase = phrases.spans.find(({ from, to }) => frame >= from - before && frame < to + after);
    if (phrase === undefined) return false;
    if (frame < phrase.from || frame >= phrase.to) return true;
    const reach = frames(STEADY_SECONDS);
    const least = 10 ** (-STEADY_UNDER_DB / 10) * (phrases.voicePowers[frame] as number);
    for (let t = frame - reach; t <= frame + reach; t++) if (!((voice[t] ?? 0) > least)) return true;
    return false;
  }
}

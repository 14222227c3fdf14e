import type { RegionDraft } from '../regions/insert-region.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { regionsBetween } from '../regions/regions-between.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels } from '../signal/samples.js';
import { freeParts } from './free-parts.js';
import { lowBurstEdges } from './low-burst-edges.js';
import { analyseTake, type TakeAnalysis } from './take-analysis.js';
import { thumpSpans } from './thump-spans.js';

/** Settings of findThumps. */
export interface ThumpOptions {
  /** How far above the voice's own sound below 90 Hz a thump stands, in dB, 6 to 40. */
  readonly aboveDb?: number;
  /** A thump that lies further than this under the voice around it is not heard, in dB, 0 to 40. */
  readonly underVoiceDb?: number;
  /** Longer ones are a rumble and no thump, in seconds, 0.05 to 1. */
  readonly mostSeconds?: number;
}

/**
 * Defaults of findThumps: 10 dB above what 90 % of the voice's frames have below 90 Hz; within 15 dB of the voice; 0.25 s, blurring of the
 * frames included, for bursts of 20 to 200 ms (common practice, no source).
 */
export const DEFAULT_THUMP_OPTIONS: Readonly<Required<ThumpOptions>> = Object.freeze({
  aboveDb: 10,
  underVoiceDb: 15,
  mostSeconds: 0.25,
});

/** The label of a thump's region. */
export const THUMP_LABEL = 'thump';

/** Upper end of the band that is cut, in Hz: lower where the octave above 90 Hz holds no more than the voice does. */
const NARROW_HZ = 90;
const WIDE_HZ = 150;
/** The octave from 90 to 180 Hz takes part where it stands this far above the voice's own, in dB. */
const WIDE_ABOVE_DB = 6;
/** Further from a phrase than this a low burst is a knock, in seconds: findNoise takes it whole. */
const NEAR_PHRASE_SECONDS = 0.15;
/** A free part shorter than this is not worth a region, in seconds. */
const LEAST_PART_SECONDS = 0.015;
/** Share of a thump that must be free of other regions. */
const LEAST_FREE_SHARE = 0.4;

/**
 * Adds plosive thumps to a list: the blows of air of a p, b or f on the microphone, as regions of kind 'noise' with the label
 * 'thump' and a band from 0 to 90 or 150 Hz, so that a cut takes the blow and leaves the vowel on which it lies.
 *
 * A thump is a burst below 90 Hz that stands `aboveDb` above what this voice itself has there (the level that 90 % of its frames stay
 * under), lies within `underVoiceDb` of the voice around it, falls by 10 dB on both sides within `mostSeconds`, and is no further than 0.15 s from a phrase (in a pause it is a knock: see findNoise). Edges lie at
 * a quarter of its amplitude. The band reaches to 150 Hz where the octave from 90 to 180 Hz stands 6 dB above the voice's own too, else
 * to 90 Hz, under the pitch of all but the lowest voices.
 *
 * Regions do not overlap, and the burst of the p that made the thump may be one: the list's regions stay as they are, and a thump
 * takes the longest part that they leave free, if that is two fifths of it and 15 ms; else it is left out.
 *
 * @param list The regions of the clip; may be empty.
 * @param channels The clip, one channel or several; powers are averaged.
 * @param options Thresholds.
 * @returns The list with the thumps, gain 0 (see lowerNoise), confidence 0.5 at the threshold to 0.95 at 20 dB above it (a rule of
 *   thumb, not measured), reason `{ rule: 'findThumps', numbers: { aboveDb } }`. The same list where nothing is found: silence, an empty clip, one
 *   sample, no voice, or a second call.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index) or an option is out
 *   of range; TypeError for the wrong kind of value.
 *
 * Source: common practice, no source (pops are high-passed at 80 to 150 Hz); measured on the corpus beside the project, where
 * most of what it finds stands at p, b, t, k and f.
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { findThumps } from 'lenition/detection';
 * const silence = createRegionList({ sampleRateHz: 48000, lengthSamples: 4800 });
 * findThumps(silence, new Float32Array(4800)).regions.length; // => 0
 */
export function findThumps(list: RegionList, channels: Channels, options: ThumpOptions = {}): RegionList {
  const rule = checkedOptions('findThumps', DEFAULT_THUMP_OPTIONS, options);
  checkNumber('findThumps', 'aboveDb', rule.aboveDb, 6, 40);
  checkNumber('findThumps', 'underVoiceDb', rule.underVoiceDb, 0, 40);
  checkNumber('findThumps', 'mostSeconds', rule.mostSeconds, 0.05, 1);
  return addThumps(list, analyseTake('findThumps', list, channels), rule);
}

/** findThumps with checked settings on an analysis that is there already. */
export function addThumps(list: RegionList, take: TakeAnalysis, rule: Required<ThumpOptions>): RegionList {
  const { clip, levels, phrases, sampleRateHz } = take;
  const drafts: RegionDraft[] = [];
  let taken = 0;
  for (const span of thumpSpans(levels, phrases, { ...rule, sampleRateHz })) {
    if (!nearPhrase(span.from, span.to)) continue;
    const frames = {
      startSample: span.from * levels.hopSamples,
      endSample: Math.min(list.lengthSamples, span.to * levels.hopSamples),
    };
    const wide = span.lowAboveDb > WIDE_ABOVE_DB;
    const { startSample, endSample } = lowBurstEdges(clip, sampleRateHz, frames, wide ? WIDE_HZ : NARROW_HZ);
    // A thump that is listed is not found again in what it left of itself.
    const listed = regionsBetween(list, startSample, endSample);
    if (listed.some(({ kind, label }) => kind === 'noise' && label === THUMP_LABEL)) continue;
    const length = endSample - startSample;
    const [longest] = freeParts(list, Math.max(taken, startSample), endSample)
      .slice()
      .sort((a, b) => b.endSample - b.startSample - (a.endSample - a.startSample));
    if (longest === undefined) continue;
    const free = longest.endSample - longest.startSample;
    if (free < LEAST_PART_SECONDS * sampleRateHz || free < LEAST_FREE_SHARE * length) continue;
    taken = longest.endSample;
    drafts.push({
      ...longest,
      kind: 'noise',
      label: THUMP_LABEL,
      band: { lowHz: 0, highHz: wide ? WIDE_HZ : NARROW_HZ },
      onsetSample: longest.startSample,
      offsetSample: longest.endSample,
      confidence: 0.5 + 0.45 * Math.min(1, Math.max(0, (span.rumbleAboveDb - rule.aboveDb) / 20)),
      reason: { rule: 'findThumps', numbers: { aboveDb: Math.min(200, span.rumbleAboveDb) } },
    });
  }
  return drafts.length === 0 ? list : insertRegions(list, drafts);

  function nearPhrase(from: number, to: number): boolean {
    const near = take.frames(NEAR_PHRASE_SECONDS);
    return phrases.spans.some((phrase) => from < phrase.to + near && to > phrase.from - near);
  }
}

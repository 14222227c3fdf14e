import type { RegionDraft } from '../regions/insert-region.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels } from '../signal/samples.js';
import { breathSpans } from './breath-spans.js';
import { freeParts } from './free-parts.js';
import { analyseTake, type TakeAnalysis } from './take-analysis.js';

/** Settings of findBreaths. */
export interface BreathOptions {
  /** Shorter air than this is no breath, in seconds, 0.05 to 2. */
  readonly leastSeconds?: number;
  /** How far above the floor every band of a breath stands, in dB, 3 to 40. */
  readonly aboveDb?: number;
}

/**
 * Defaults of findBreaths: 0.14 s, longer than an f or h before a vowel (f 126 ms, van Santen 1993, from notes on it; a breath is told by
 * its length, Ruinskiy and Lavner 2007, from notes on it), and 5 dB, past the ripple of a steady noise in one frame.
 */
export const DEFAULT_BREATH_OPTIONS: Readonly<Required<BreathOptions>> = Object.freeze({
  leastSeconds: 0.14,
  aboveDb: 5,
});

/** A breath that another region covers by more than this is left out: it would be a scrap. */
const LEAST_FREE_SHARE = 0.6;

/**
 * Adds the breaths between phrases that a list does not have yet: soft ones above all, which detectConsonants, made for harsh sounds,
 * may pass over. A second opinion by plain rule, for a clip as a whole.
 *
 * A breath is a stretch between phrases in which the octaves from 700 Hz to 5.6 kHz all stand above the take's own floor (the
 * power that 15 % of the frames between phrases stay under), without partials (flatness), not ruled by what lies below
 * 350 Hz, at least 8 dB under the voice around it, 0.14 to 2.5 s long. Edges lie at half the amplitude of its loud part.
 * All is relative: neither gain nor offset of the clip matters, nor digital silence in it.
 *
 * @param list The regions of the clip: consonants tell where phrases end. What overlaps a breath that is listed is not added;
 *   what other regions cover is left to them.
 * @param channels The clip, one channel or several; powers are averaged.
 * @param options Least length and least height.
 * @returns The list with the new breaths, gain 0, each with the reason `{ rule: 'findBreaths', numbers: { aboveDb } }` and a
 *   confidence of 0.5 at the threshold to 0.95 at 20 dB above it (a rule of thumb, not measured). The same list where nothing is found: silence,
 *   an empty clip, one sample, or a second call.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index) or an option is out
 *   of range; TypeError for the wrong kind of value.
 *
 * Source: the bump near 1.6 kHz, Nakano et al. 2008 (from memory); the rest measured on the corpus beside the project and on the
 * demonstration (test/main-job/demonstration-noise.test.ts).
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { findBreaths } from 'lenition/detection';
 * const silence = createRegionList({ sampleRateHz: 48000, lengthSamples: 4800 });
 * findBreaths(silence, new Float32Array(4800)).regions.length; // => 0
 */
export function findBreaths(list: RegionList, channels: Channels, options: BreathOptions = {}): RegionList {
  const rule = checkedOptions('findBreaths', DEFAULT_BREATH_OPTIONS, options);
  checkNumber('findBreaths', 'leastSeconds', rule.leastSeconds, 0.05, 2);
  checkNumber('findBreaths', 'aboveDb', rule.aboveDb, 3, 40);
  return addBreaths(list, analyseTake('findBreaths', list, channels), rule);
}

/** findBreaths with checked settings on an analysis that is there already. */
export function addBreaths(list: RegionList, take: TakeAnalysis, rule: Required<BreathOptions>): RegionList {
  const { aboveDb } = rule;
  const { hopSamples } = take.levels;
  const drafts: RegionDraft[] = [];
  for (const span of breathSpans(take, rule)) {
    const startSample = Math.max(0, span.from * hopSamples);
    const endSample = Math.min(list.lengthSamples, span.to * hopSamples);
    if (
      list.regions.some((r) => r.kind === 'breath' && r.startSample < endSample && r.endSample > startSample)
    )
      continue;
    const parts = freeParts(list, startSample, endSample);
    const free = parts.find(
      (part) => part.endSample - part.startSample >= LEAST_FREE_SHARE * (endSample - startSample),
    );
    if (free === undefined) continue;
    drafts.push({
      ...free,
      kind: 'breath',
      onsetSample: free.startSample,
      offsetSample: free.endSample,
      confidence: 0.5 + 0.45 * Math.min(1, Math.max(0, (span.aboveDb - aboveDb) / 20)),
      reason: { rule: 'findBreaths', numbers: { aboveDb: span.aboveDb } },
    });
  }
  return drafts.length === 0 ? list : insertRegions(list, drafts);
}

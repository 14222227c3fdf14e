import type { RegionDraft } from '../regions/insert-region.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels } from '../signal/samples.js';
import { breathSpans } from './breath-spans.js';
import { DEFAULT_BREATH_OPTIONS } from './find-breaths.js';
import type { FrameSpan } from './find-phrases.js';
import { pauseSounds } from './pause-sounds.js';
import { analyseTake, type TakeAnalysis } from './take-analysis.js';
import { TAKE_BANDS } from './take-levels.js';

/** Settings of findNoise. */
export interface NoiseOptions {
  /** How far above the take's floor a noise stands in some octave, in dB, 3 to 60. */
  readonly aboveDb?: number;
  /** Shorter noises are left out, in seconds, 0.02 to 10. */
  readonly leastSeconds?: number;
  /** Noises nearer than this are one, in seconds, 0 to 10. */
  readonly joinSeconds?: number;
  /** Time before a phrase that is left alone, in seconds, 0 to 2: soft onsets of f and h. */
  readonly holdBeforeSeconds?: number;
  /** Time after a phrase and its dying tail that is left alone, in seconds, 0 to 2. */
  readonly holdAfterSeconds?: number;
  /** Time left alone on both sides of breaths and of regions that the list has, in seconds, 0 to 1. */
  readonly marginSeconds?: number;
  /** True: everything between phrases but for holds and breaths, whether or not it stands above the floor. */
  readonly wholePauses?: boolean;
}

/**
 * Defaults of findNoise: 10 dB is beyond the ripple of a steady room in means of 75 ms; 60 ms, a knock; 0.3 s apart, so that beats of bleed are one noise;
 * holds of 0.15 and 0.2 s, longer than an f or h (126 ms, van Santen 1993, from notes on it); 0.06 s beside breaths, half of a long soft edge
 * (common practice, no source).
 */
export const DEFAULT_NOISE_OPTIONS: Readonly<Required<NoiseOptions>> = Object.freeze({
  aboveDb: 10,
  leastSeconds: 0.06,
  joinSeconds: 0.3,
  holdBeforeSeconds: 0.15,
  holdAfterSeconds: 0.2,
  marginSeconds: 0.06,
  wholePauses: false,
});

/** Room on both sides for a fade that is done before the noise begins, in seconds. */
const FADE_ROOM_SECONDS = 0.1;
/** A noise at the border of what is left alone and shorter than this is its fading edge, if it is loudest there. */
const SKIRT_SECONDS = 0.15;

/**
 * Adds the noise between phrases to a list: hum, handling, bleed of headphones, doors, as regions of kind 'noise'.
 *
 * The take is its own measure. Phrases are runs of voice with their consonants and dying tails. Between them the floor of each octave from
 * 20 Hz to 11 kHz is the power that 15 % of the frames stay under; what stands `aboveDb` above it, and is no more than 60 dB under the voice
 * (less below 180 Hz, where little is heard), is noise, unless it is a breath (see findBreaths). Onset and offset are where it rises out of the floor and sinks into it (to 40 ms), start and end up to
 * 0.1 s outside, so that a fade has room. Before and after phrases and beside
 * breaths and listed regions time is left alone, so that no soft f or h, no tail and no breath is clipped. A hum that
 * never stops is the floor: `wholePauses` takes that too. Neither gain nor offset of the clip matters.
 *
 * @param list The regions of the clip, consonants and breaths found already; they stay as they are.
 * @param channels The clip, one channel or several; powers are averaged.
 * @param options Thresholds, holds and lengths.
 * @returns The list with the new regions, gain 0, confidence 0.5 at the threshold to 0.95 at 20 dB above it (a rule of thumb, not measured),
 *   reason `{ rule: 'findNoise', numbers: { aboveDb } }`: how far its loudest octave stands above the floor. The same list where nothing is found:
 *   silence, an empty clip, one sample, a clip without a pause, or a second call.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index) or an option is out
 *   of range; TypeError for the wrong kind of value.
 *
 * Source: common practice, no source; figures measured on the demonstration (test/main-job/demonstration-noise.test.ts).
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { findNoise } from 'lenition/detection';
 * const silence = createRegionList({ sampleRateHz: 48000, lengthSamples: 4800 });
 * findNoise(silence, new Float32Array(4800)).regions.length; // => 0
 */
export function findNoise(list: RegionList, channels: Channels, options: NoiseOptions = {}): RegionList {
  return addNoise(list, analyseTake('findNoise', list, channels), noiseSettings(options));
}

/** findNoise with checked settings on an analysis that is there already. */
export function addNoise(list: RegionList, take: TakeAnalysis, settings: Required<NoiseOptions>): RegionList {
  const { levels, phrases, pauses, frames } = take;
  const { hopSamples, frameCount } = levels;
  if (phrases.spans.length === 0) return list;

  const taken = new Uint8Array(frameCount);
  const leave = (from: number, to: number): void => {
    taken.fill(1, Math.max(0, from), Math.max(0, Math.min(frameCount, to)));
  };
  for (const { from, to } of phrases.spans)
    leave(from - frames(settings.holdBeforeSeconds), to + frames(settings.holdAfterSeconds));
  const margin = frames(settings.marginSeconds);
  for (const { startSample, endSample } of list.regions)
    leave(Math.floor(startSample / hopSamples) - margin, Math.ceil(endSample / hopSamples) + margin);
  for (const { from, to } of breathSpans(take, DEFAULT_BREATH_OPTIONS)) leave(from - margin, to + margin);

  const spans = pauseSounds(levels, { ...pauses, inPhrase: taken }, phrases, {
    aboveDb: settings.wholePauses ? Number.NEGATIVE_INFINITY : settings.aboveDb,
    joinFrames: frames(settings.joinSeconds),
  });
  const given = new Uint8Array(frameCount);
  const drafts: RegionDraft[] = [];
  for (const span of spans) {
    if (span.to - span.from < Math.max(1, frames(settings.leastSeconds)) || isSkirt(span)) continue;
    const onsetSample = span.from * hopSamples;
    const offsetSample = Math.min(list.lengthSamples, span.to * hopSamples);
    const aboveDb = mostAboveDb(span);
    const first = freeReach(span.from, -1);
    const last = freeReach(span.to - 1, 1);
    given.fill(1, first, last + 1);
    drafts.push({
      startSample: first * hopSamples,
      endSample: Math.min(list.lengthSamples, (last + 1) * hopSamples),
      kind: 'noise',
      onsetSample,
      offsetSample,
      confidence: 0.5 + 0.45 * Math.min(1, Math.max(0, (aboveDb - settings.aboveDb) / 20)),
      reason: { rule: 'findNoise', numbers: { aboveDb } },
    });
  }
  return drafts.length === 0 ? list : insertRegions(list, drafts);

  /** The frame farthest from `frame`, within the room for a fade, up to which nothing is to be left alone and no other noise stands. */
  function freeReach(frame: number, step: number): number {
    const farthest = frames(FADE_ROOM_SECONDS);
    let at = frame;
    while (Math.abs(at + step - frame) <= farthest && isFree(at + step)) at += step;
    return at;
  }

  function isFree(t: number): boolean {
    return taken[t] === 0 && given[t] === 0 && !spans.some(({ from, to }) => t >= from && t < to);
  }

  function isSkirt({ from, to }: FrameSpan): boolean {
    if (settings.wholePauses || to - from >= frames(SKIRT_SECONDS)) return false;
    let loudest = from;
    for (let t = from; t < to; t++) if (frameDb(t) > frameDb(loudest)) loudest = t;
    return (taken[from - 1] === 1 && loudest <= from + 1) || (taken[to] === 1 && loudest >= to - 2);
  }

  function frameDb(t: number): number {
    let most = Number.NEGATIVE_INFINITY;
    for (let band = 0; band < levels.usableBands; band++) {
      const ratio =
        (pauses.powers[t * TAKE_BANDS + band] as number) /
        ((pauses.floor[band] as number) + Number.MIN_VALUE);
      most = Math.max(most, ratio);
    }
    return 10 * Math.log10(most);
  }

  function mostAboveDb({ from, to }: FrameSpan): number {
    let most = 0;
    for (let t = from; t < to; t++) most = Math.max(most, Math.min(200, frameDb(t)));
    return most;
  }
}

function noiseSettings(options: NoiseOptions): Readonly<Required<NoiseOptions>> {
  const settings = checkedOptions('findNoise', DEFAULT_NOISE_OPTIONS, options);
  checkNumber('findNoise', 'aboveDb', settings.aboveDb, 3, 60);
  checkNumber('findNoise', 'leastSeconds', settings.leastSeconds, 0.02, 10);
  checkNumber('findNoise', 'joinSeconds', settings.joinSeconds, 0, 10);
  checkNumber('findNoise', 'holdBeforeSeconds', settings.holdBeforeSeconds, 0, 2);
  checkNumber('findNoise', 'holdAfterSeconds', settings.holdAfterSeconds, 0, 2);
  checkNumber('findNoise', 'marginSeconds', settings.marginSeconds, 0, 1);
  return settings;
}

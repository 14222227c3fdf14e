import { findPhrases } from '../detection/find-phrases.js';
import { takeLevels } from '../detection/take-levels.js';
import { channelsOfClip } from '../regions/channels-of-clip.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionList } from '../regions/region.js';
import { samplesWithin } from '../regions/time.js';
import { checkFinite, checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels } from '../signal/samples.js';

/** A stretch of singing or speech between two pauses, in samples, half-open. */
export interface Phrase {
  /** First sample. */
  readonly startSample: number;
  /** One past the last sample. */
  readonly endSample: number;
}

/** Settings of phrasesOf; what is left out has its value from DEFAULT_PHRASE_OPTIONS. */
export interface PhraseOptions {
  /** Stretches without voice, consonants and tails that are shorter than this do not part phrases, in seconds, 0.12 to 10. */
  readonly pauseSeconds?: number;
  /** How far a phrase reaches into the pauses beside it, in seconds, 0 to 1; at most to their middle. */
  readonly marginSeconds?: number;
}

/**
 * Defaults of phrasesOf: pauses of 0.3 s and more part phrases, as they end the neighbourhood of a consonant in measureLevels; 50 ms
 * of the pause go with each phrase, so that a fade there lies in quiet (common practice, no source).
 */
export const DEFAULT_PHRASE_OPTIONS: Readonly<Required<PhraseOptions>> = Object.freeze({
  pauseSeconds: 0.3,
  marginSeconds: 0.05,
});

/** Shorter stops are parts of words to the search for phrases. */
const LEAST_PAUSE_SECONDS = 0.12;

/**
 * The phrases of a take: where the voice sounds, with the consonants of the list beside it, parted by pauses. Breaths, hum and
 * bleed are no part of a phrase; a breath between two of them lies in the pause.
 *
 * Everything is measured relative to the voice around it, so the level of the take does not matter. A phrase begins within a frame
 * (43 ms) of its first sound; it ends with its dying tail, up to 0.1 s late where a sound stops at once, so that no tail is clipped.
 *
 * @param channels - The take, one channel or several, each `list.lengthSamples` long; powers are averaged.
 * @param list - Its regions: consonants belong to the phrase that they touch. Without regions the phrases begin and end with their voiced sound.
 * @param options - Least pause and margin.
 * @returns A frozen array in order of time; none overlap. Empty for silence and for a take without a voice.
 * @throws RangeError where the clip is not as long as the list says, an option is out of range, or a sample is NaN or infinite
 *   (with its index); TypeError for a wrong kind of value.
 *
 * Source: common practice.
 *
 * @example
 * import { phrasesOf } from 'lenition/levels';
 * import { createRegionList } from 'lenition/regions';
 * // Two notes of a second each, with a second of silence between them
 * const isNote = (i: number) => i < 48000 || i >= 96000;
 * const samples = Float32Array.from({ length: 144000 }, (_, i) => (isNote(i) ? 0.1 * Math.sin((i * 2 * Math.PI * 220) / 48000) : 0));
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 144000 });
 * phrasesOf(samples, list).length; // => 2
 */
export function phrasesOf(
  channels: Channels,
  list: RegionList,
  options: PhraseOptions = {},
): readonly Phrase[] {
  const { pauseSeconds, marginSeconds } = checkedOptions('phrasesOf', DEFAULT_PHRASE_OPTIONS, options);
  checkNumber('phrasesOf', 'pauseSeconds', pauseSeconds, LEAST_PAUSE_SECONDS, 10);
  checkNumber('phrasesOf', 'marginSeconds', marginSeconds, 0, 1);
  assertRegionList('phrasesOf', list);
  const audio = channelsOfClip('phrasesOf', list, channels);
  const { lengthSamples, sampleRateHz } = list;
  audio.forEach((channel, c) => {
    checkFinite('phrasesOf', audio.length === 1 ? 'channels' : `channels[${c}]`, channel);
  });
  const levels = takeLevels(audio, sampleRateHz);
  const pauseSamples = pauseSeconds * sampleRateHz;
  const phrases: { startSample: number; endSample: number }[] = [];
  for (const { from, to } of findPhrases(list, levels).spans) {
    const startSample = Math.min(from * levels.hopSamples, lengthSamples);
    const endSample = Math.min(to * levels.hopSamples, lengthSamples);
    const last = phrases[phrases.length - 1];
    if (last !== undefined && startSample - last.endSample < pauseSamples) last.endSample = endSample;
    else if (endSample > startSample) phrases.push({ startSample, endSample });
  }
  return withMargins(phrases, samplesWithin(marginSeconds, sampleRateHz), lengthSamples);
}

function withMargins(phrases: readonly Phrase[], margin: number, lengthSamples: number): readonly Phrase[] {
  return Object.freeze(
    phrases.map(({ startSample, endSample }, i) => {
      const before = phrases[i - 1];
      const after = phrases[i + 1];
      const low = before === undefined ? 0 : middle(before.endSample, startSample);
      const high = after === undefined ? lengthSamples : middle(endSample, after.startSample);
      return Object.freeze({
        startSample: Math.max(low, startSample - margin),
        endSample: Math.min(high, endSample + margin),
      });
    }),
  );
}

function middle(from: number, to: number): number {
  return from + Math.floor((to - from) / 2);
}

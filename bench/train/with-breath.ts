import type { LabelledClip } from '../lib/corpus.js';
import { changedClip } from '../lib/ends/changed-clip.js';
import { createMouth, madeBreath } from './made-breath.js';
import { breathLabel } from './made-breaths.js';
import { between, type Random } from './random.js';

/** A voice that stops for a breath dies away in this time, and is back in this, in seconds. */
const FADE_OUT_SECONDS = 0.01;
const FADE_IN_SECONDS = 0.003;

/**
 * The same clip with a breath in it, 14 to 36 dB below its peak: half of the time before the phrase, otherwise in it, at the end of a vowel, nasal
 * or glide, as singers snatch one. What comes after it comes later, labels too.
 */
export function withBreath(clip: LabelledClip, random: Random): LabelledClip {
  const { sampleRateHz, labels } = clip;
  const phrase = clip.channels[0] as Float32Array;
  const ends = labels.flatMap(({ phoneClass, endSeconds }, i) =>
    phoneClass === 'sonorant' && i < labels.length - 1 ? [endSeconds] : [],
  );
  const inPhrase = random.uniform() < 0.5 && ends.length > 0;
  const atSeconds = inPhrase ? (ends[Math.floor(random.uniform() * ends.length)] as number) : 0;
  const at = Math.min(phrase.length, Math.round(atSeconds * sampleRateHz));

  const breath = madeBreath(createMouth(random), sampleRateHz, random);
  const gapBefore = at === 0 ? 0 : Math.round(between(0.02, 0.12, random) * sampleRateHz);
  const gapAfter = Math.round(between(0.02, 0.15, random) * sampleRateHz);
  const added = gapBefore + breath.samples.length + gapAfter;
  const peak = phrase.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = peak * 10 ** (between(-36, -14, random) / 20);
  // So that the breath does not come out of digital silence, where the phrase does not.
  const floor = peak * 10 ** (between(-70, -50, random) / 20);
  const fade = (distance: number, seconds: number): number =>
    at === 0 ? 1 : Math.min(1, distance / (seconds * sampleRateHz));
  const samples = Float32Array.from({ length: phrase.length + added }, (_, i) => {
    if (i < at) return fade(at - i, FADE_OUT_SECONDS) * (phrase[i] as number);
    if (i >= at + added) return fade(i - at - added, FADE_IN_SECONDS) * (phrase[i - added] as number);
    return gain * (breath.samples[i - at - gapBefore] ?? 0) + floor * random.normal();
  });

  const later = added / sampleRateHz;
  const start = atSeconds + gapBefore / sampleRateHz;
  const moved = labels.map((label) => {
    const shift = label.startSeconds >= atSeconds ? later : 0;
    return {
      ...label,
      startSeconds: label.startSeconds + shift,
      endSeconds: shift > 0 ? label.endSeconds + shift : Math.min(label.endSeconds, atSeconds),
    };
  });
  const place = labels.filter((label) => label.startSeconds < atSeconds).length;
  return changedClip(clip, samples, {
    labels: [
      ...moved.slice(0, place),
      breathLabel(start + breath.startSeconds, start + breath.endSeconds),
      ...moved.slice(place),
    ],
  });
}

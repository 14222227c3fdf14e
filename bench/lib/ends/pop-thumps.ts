import type { Random } from '../../train/random.js';
import type { LabelledClip } from '../corpus.js';

/** One at a place of chance for so many seconds. */
const APART_SECONDS = 2;
const RISE_SECONDS = 0.006;
const DECAY_SECONDS = 0.05;
/** A p blows just before its vowel: so long before the end of its label. */
const BEFORE_END_SECONDS = 0.03;

/** Air on the microphone: decaying tones of 50 to 90 Hz, of amplitude 1, at places of chance and at every p. */
export function popThumps(clip: LabelledClip, random: Random): Float32Array {
  const { sampleRateHz, durationSeconds, labels } = clip;
  const out = new Float32Array((clip.channels[0] as Float32Array).length);
  const places = Array.from({ length: Math.max(1, Math.round(durationSeconds / APART_SECONDS)) }, () =>
    Math.max(0, random.uniform() * (durationSeconds - 0.3)),
  );
  for (const { label, endSeconds } of labels)
    if (label.toLowerCase() === 'p') places.push(Math.max(0, endSeconds - BEFORE_END_SECONDS));
  for (const place of places) {
    const frequencyHz = 50 + 40 * random.uniform();
    const start = Math.round(place * sampleRateHz);
    for (let i = start; i < out.length && i < start + 8 * DECAY_SECONDS * sampleRateHz; i++) {
      const t = (i - start) / sampleRateHz;
      const shape = (1 - Math.exp(-t / RISE_SECONDS)) * Math.exp(-t / DECAY_SECONDS);
      out[i] = (out[i] as number) + shape * Math.sin(2 * Math.PI * frequencyHz * t);
    }
  }
  return out;
}

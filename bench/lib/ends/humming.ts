import { lowPass } from '../../../src/signal/biquad-design.js';
import { filterSamples } from '../../../src/signal/biquad-filter.js';
import type { LabelledClip } from '../corpus.js';
import { changedClip } from './changed-clip.js';

const CORNER_HZ = 500;
/** The last of a consonant may lie in what the next label calls a vowel: labels are good to some 30 ms. */
const MARGIN_SECONDS = 0.03;
const FADE_SECONDS = 0.015;

/** What is left of a voice when it hums: its vowels, nasals and glides below 500 Hz (48 dB an octave), and nothing between them. */
export function hummed(clip: LabelledClip): LabelledClip {
  const { sampleRateHz } = clip;
  const samples = clip.channels[0] as Float32Array;
  const gains = new Float32Array(samples.length);
  const fade = FADE_SECONDS * sampleRateHz;
  for (const { startSeconds, endSeconds } of voicedStretches(clip)) {
    const from = (startSeconds + MARGIN_SECONDS) * sampleRateHz;
    const to = (endSeconds - MARGIN_SECONDS) * sampleRateHz;
    for (let i = Math.ceil(from); i < Math.min(to, samples.length); i++)
      gains[i] = 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, (i - from) / fade, (to - i) / fade));
  }
  const section = lowPass({ sampleRateHz, frequencyHz: CORNER_HZ });
  const low = filterSamples(samples, [section, section, section, section]);
  const labels = clip.labels.filter(({ phoneClass }) => phoneClass === 'sonorant');
  return changedClip(
    clip,
    low.map((x, i) => x * (gains[i] as number)),
    { labels },
  );
}

/** Sonorant labels, those that touch joined. */
function voicedStretches({ labels }: LabelledClip): readonly { startSeconds: number; endSeconds: number }[] {
  const stretches: { startSeconds: number; endSeconds: number }[] = [];
  for (const { phoneClass, startSeconds, endSeconds } of labels) {
    if (phoneClass !== 'sonorant') continue;
    const last = stretches[stretches.length - 1];
    if (last !== undefined && startSeconds - last.endSeconds < 0.005) last.endSeconds = endSeconds;
    else stretches.push({ startSeconds, endSeconds });
  }
  return stretches;
}

/** Amplitudes of a hum's harmonics fall so with their number: closed lips let little through (no source). */
const SLOPE = 2;
const NOTE_SECONDS = 0.8;

/** A hum that no voice made: notes with vibrato, harmonics below 1 kHz, soft starts, and the hiss of a microphone 60 dB down. */
export function syntheticHum(
  length: number,
  sampleRateHz: number,
  random: { uniform(): number; normal(): number },
): Float32Array {
  const out = new Float32Array(length);
  const note = Math.round(NOTE_SECONDS * sampleRateHz);
  let phase = 0;
  let pitchHz = 150;
  for (let i = 0; i < length; i++) {
    if (i % note === 0) pitchHz = 110 * 2 ** (random.uniform() * 1.5);
    const t = (i % note) / sampleRateHz;
    phase += (2 * Math.PI * pitchHz * (1 + 0.01 * Math.sin(2 * Math.PI * 5.5 * t))) / sampleRateHz;
    const shape = Math.min(1, t / 0.08, (NOTE_SECONDS - t) / 0.15);
    let sum = 0;
    for (let k = 1; k * pitchHz < 1000; k++) sum += Math.sin(k * phase) / k ** SLOPE;
    out[i] = 0.2 * Math.max(0, shape) * sum + 0.0001 * random.normal();
  }
  return out;
}

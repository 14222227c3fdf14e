import { between, type Random } from './random.js';

/** A stop of the voice at a sample of a vowel. */
export interface GlottalStop {
  /** The voice ceases before this sample, and sets in again with it. */
  readonly at: number;
  /** What is heard between: a stillness, then up to three single pulses of the vowel. */
  readonly sound: Float32Array;
  /** Gain so many samples after the voice has set in, and so many before it ceases: 0 to 1. */
  readonly rise: (after: number) => number;
  readonly fall: (before: number) => number;
}

/** The voice sets in with the strongest peak within this time: a pulse of at least 83 Hz is in it. */
const PERIOD_SECONDS = 0.012;
/** How often single pulses come before the voice. */
const PULSES_SHARE = 0.55;
const MOST_PULSES = 3;

/**
 * Makes a glottal stop near a time in a vowel: 40 to 250 ms of a quiet room; in about half of all cases one to three single
 * pulses 8 to 35 ms apart, as of a creaky voice (the next pulse of the vowel, dying away at once); and a voice that sets in within a
 * millisecond, at full strength or rising from 3 to 12 dB less. Such figures were seen in spectrograms of spelt letters.
 */
export function glottalStop(
  vowel: Float32Array,
  sampleRateHz: number,
  aboutSeconds: number,
  random: Random,
): GlottalStop {
  const samplesOf = (seconds: number): number => Math.round(seconds * sampleRateHz);
  const peak = (from: number, to: number): number => {
    let most = from;
    for (let i = from; i < to; i++) if (level(vowel[i]) > level(vowel[most])) most = i;
    return most;
  };
  const about = Math.min(vowel.length, samplesOf(aboutSeconds));
  const pulseAt = peak(about, Math.min(vowel.length, about + samplesOf(PERIOD_SECONDS)));
  // A pulse starts shortly before its peak.
  const at = Math.max(0, pulseAt - samplesOf(between(0.0005, 0.0015, random)));
  const attack = Math.max(1, samplesOf(between(0.0003, 0.001, random)));
  const room = level(vowel[peak(0, vowel.length)]) * 10 ** (between(-75, -50, random) / 20);

  const stillness = samplesOf(between(0.04, 0.25, random));
  const count = random.uniform() < PULSES_SHARE ? 1 + Math.floor(MOST_PULSES * random.uniform()) : 0;
  const distances = Array.from({ length: count }, () => samplesOf(between(0.008, 0.035, random)));
  const decay = samplesOf(between(0.0015, 0.006, random));
  const sound = Float32Array.from(
    { length: stillness + distances.reduce((sum, distance) => sum + distance, 0) },
    () => room * random.normal(),
  );
  let start = stillness;
  let gain = 10 ** (between(-10, 0, random) / 20);
  for (const distance of distances) {
    for (let i = 0; i < Math.min(distance, samplesOf(PERIOD_SECONDS)); i++)
      sound[start + i] =
        (sound[start + i] as number) +
        gain * (vowel[at + i] ?? 0) * Math.min(1, i / attack) * Math.exp(-i / decay);
    gain = Math.min(1, gain * 10 ** (between(-4, 6, random) / 20));
    start += distance;
  }

  const soft = random.uniform() < 0.5 ? 1 : 10 ** (between(-12, -3, random) / 20);
  const rising = samplesOf(between(0.005, 0.04, random));
  const falling = Math.max(1, samplesOf(between(0.004, 0.02, random)));
  return {
    at,
    sound,
    rise: (after) => Math.min(1, after / attack) * (soft + (1 - soft) * Math.min(1, after / rising)),
    fall: (before) => Math.min(1, before / falling),
  };
}

function level(sample: number | undefined): number {
  return Math.abs(sample ?? 0);
}

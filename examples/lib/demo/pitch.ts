import type { Samples } from '../../../src/signal/samples.js';
import { ease } from './fade.js';
import type { Random } from './random.js';

/** A note to sing, from a sample on: a MIDI number. */
export interface Note {
  readonly startSample: number;
  readonly note: number;
  /** True where it follows a rest: the voice then slides up to it from a tone below. */
  readonly afterRest: boolean;
}

export interface Vibrato {
  readonly rateHz: number;
  /** Swing to either side, in cents. */
  readonly cents: number;
}

const SLIDE_SECONDS = 0.15;
/** Share of the slide that is done when the vowel begins. */
const ARRIVAL = 0.4;
const VIBRATO_DELAY_SECONDS = 0.14;
const VIBRATO_GROWTH_SECONDS = 0.22;

/** Frequency of a MIDI note in equal temperament, A above middle C at 440 Hz. */
export function noteFrequencyHz(note: number): number {
  return 440 * 2 ** ((note - 69) / 12);
}

/**
 * Pitch at each sample, in Hz: the voice slides from note to note, arriving as the vowel does, vibrato grows on a held
 * note, and the whole wanders by a few cents.
 */
export function pitchLine(
  notes: readonly Note[],
  lengthSamples: number,
  sampleRateHz: number,
  vibrato: Vibrato,
  random: Random,
): Samples {
  const pitch = new Float32Array(lengthSamples);
  // Reckoned every millisecond and joined by straight lines.
  const block = Math.max(1, Math.round(sampleRateHz / 1000));
  const blockSeconds = block / sampleRateHz;
  const slide = SLIDE_SECONDS * sampleRateHz;
  // A random walk that is drawn back within a quarter of a second: about 6 cents RMS.
  const pull = 4 * blockSeconds;
  let wander = 0;
  let at = 0;
  let from = notes[0]!.note - 2;
  let last = noteFrequencyHz(from);
  for (let start = 0; start < lengthSamples; start += block) {
    const end = start + block;
    while (at + 1 < notes.length && end >= notes[at + 1]!.startSample - ARRIVAL * slide) {
      const next = notes[at + 1]!;
      from = next.afterRest ? next.note - 2 : notes[at]!.note;
      at++;
    }
    const { note, startSample } = notes[at]!;
    const held = (end - startSample) / sampleRateHz;
    const growth = ease((held - VIBRATO_DELAY_SECONDS) / VIBRATO_GROWTH_SECONDS);
    const swing = Math.sin((2 * Math.PI * vibrato.rateHz * end) / sampleRateHz);
    const arrived = ease((end - startSample) / slide + ARRIVAL);
    wander += -wander * pull + 0.06 * Math.sqrt(2 * pull) * random.normal();
    const semitones = from + (note - from) * arrived + (vibrato.cents / 100) * growth * swing + wander;
    const target = noteFrequencyHz(semitones);
    for (let i = start; i < Math.min(end, lengthSamples); i++)
      pitch[i] = last + ((target - last) * (i - start)) / block;
    last = target;
  }
  return pitch;
}

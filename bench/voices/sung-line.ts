import type { Random } from '../train/random.js';
import { PITCHES_PER_UNIT, UNIT_SECONDS } from './neural-model.js';

const VOWEL = /[aeiouɑɐɒæɔəɚɛɜɨɪɯøœʊʌɤᵻᵊAIOQWYy]/;
/** Semitones of a pentatonic scale around the note that a line begins on, which is the third. */
const SCALE = [-5, -3, 0, 2, 4, 7, 9] as const;
const FIRST_DEGREE = 2;
const LEAST_PITCH_HZ = 60;
/** A note is reached by a glide of this time constant; vibrato begins after the second number and is full after the third. */
const GLIDE_SECONDS = 0.05;
const VIBRATO_AFTER_SECONDS = 0.3;
const VIBRATO_FULL_SECONDS = 0.2;
const VIBRATO_HZ = 5.6;
const VIBRATO_SEMITONES = 0.35;

/** Vowels held as in a song, up to six times as long; consonants as they are said. */
export function heldVowels(tokens: readonly string[], durations: Float32Array, random: Random): Float32Array {
  return durations.map((units, i) =>
    VOWEL.test(tokens[i] as string)
      ? Math.round(units * (1.2 + 4.8 * random.uniform() * random.uniform()))
      : units,
  );
}

/** A melody of our own in place of the pitch of speech: a note for each vowel, a few semitones above the spoken voice. */
export function sungPitches(
  tokens: readonly string[],
  durations: Float32Array,
  spoken: Float32Array,
  random: Random,
): Float32Array {
  const voiced = spoken.filter((hz) => hz > LEAST_PITCH_HZ).sort();
  const base = (voiced[voiced.length >> 1] ?? 0) * 2 ** ((2 + 4 * random.uniform()) / 12);
  const pitchSeconds = UNIT_SECONDS / PITCHES_PER_UNIT;
  const sung = spoken.slice();
  let degree = FIRST_DEGREE;
  let [before, note, since, at] = [base, base, 0, 0];
  tokens.forEach((token, i) => {
    if (VOWEL.test(token) && !VOWEL.test(tokens[i - 1] ?? '')) {
      degree = Math.max(0, Math.min(SCALE.length - 1, degree + Math.round(random.uniform() * 4 - 2)));
      [before, note, since] = [note, base * 2 ** ((SCALE[degree] as number) / 12), 0];
    }
    for (
      const end = at + PITCHES_PER_UNIT * (durations[i] as number);
      at < end;
      at++, since += pitchSeconds
    ) {
      if (!((spoken[at] as number) > LEAST_PITCH_HZ)) continue;
      const glided = before * (note / before) ** (1 - Math.exp(-since / GLIDE_SECONDS));
      const depth = Math.max(0, Math.min(1, (since - VIBRATO_AFTER_SECONDS) / VIBRATO_FULL_SECONDS));
      const vibrato = VIBRATO_SEMITONES * depth * Math.sin(2 * Math.PI * VIBRATO_HZ * at * pitchSeconds);
      sung[at] = glided * 2 ** (vibrato / 12);
    }
  });
  return sung;
}

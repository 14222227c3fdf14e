import { PHONES, type Phone, type PhoneLabel } from './phones.js';
import { createRandom } from './random.js';
import type { Singer } from './singers.js';
import { BEAT_SECONDS, LINES, REST_BEATS, type Syllable } from './song.js';

/** A phone with its place in a take. */
export interface TimedPhone {
  readonly label: PhoneLabel;
  readonly phone: Phone;
  readonly startSample: number;
  readonly endSample: number;
  /** RMS of the noise re the vowel that it leans on, in dB; null for a phone without noise. */
  readonly levelDb: number | null;
  /** Which entry of the schedule is the vowel that it leans on; −1 for silence. */
  readonly vowelIndex: number;
  /** Note that is sung, a MIDI number. */
  readonly note: number;
}

interface Planned {
  readonly label: PhoneLabel;
  seconds: number;
  readonly levelDb: number | null;
}

const LEAD_IN_SECONDS = 1.25;
const LEAST_VOWEL_SECONDS = 0.095;
const BREATH_TO_LINE_SECONDS = 0.07;
const MAJOR_SCALE = [0, 2, 4, 5, 7, 9, 11];
const CLOSURES: Readonly<Record<string, PhoneLabel>> = { t: 'cl', k: 'cl', ch: 'cl', d: 'bar' };

/**
 * Places every phone of the song for one singer. Vowels begin on the beat, more or less; the consonants before them
 * come early, as singers do it, and are squeezed where a vowel would be left no time. Every sample of the take belongs to
 * one phone.
 */
export function schedule(singer: Singer, sampleRateHz: number): readonly TimedPhone[] {
  const random = createRandom(singer.seed);
  const timed: TimedPhone[] = [];
  let now = 0;
  const put = (planned: Planned, seconds: number, vowelIndex: number, note: number): void => {
    const startSample = timed.at(-1)?.endSample ?? 0;
    now += seconds;
    const { label, levelDb } = planned;
    const endSample = Math.round(now * sampleRateHz);
    timed.push({ label, phone: PHONES[label], startSample, endSample, levelDb, vowelIndex, note });
  };
  const silence: Planned = { label: 'sil', seconds: 0, levelDb: null };

  let lineSeconds = LEAD_IN_SECONDS;
  for (const line of LINES) {
    const onBeat = beatTimes(line, lineSeconds).map((seconds) => {
      const [least, most] = singer.raggedSeconds;
      return seconds + random.uniform(least, most) * (random.uniform(-1, 1) < 0 ? -1 : 1);
    });
    const parts = line.map((syllable) => plan(syllable, singer, random.uniform));
    const breath = planPhone('br', singer, random.uniform);
    const first = parts[0]!;
    const firstNote = noteOf(line[0]!, singer);
    const breathStart = onBeat[0]! - total(first.onset) - BREATH_TO_LINE_SECONDS - breath.seconds;
    put(silence, breathStart - now, -1, firstNote);
    put(breath, breath.seconds, timed.length + 2 + first.onset.length, firstNote);
    put(silence, BREATH_TO_LINE_SECONDS, -1, firstNote);

    parts.forEach(({ onset, vowel, coda }, k) => {
      const note = noteOf(line[k]!, singer);
      const isLast = k === parts.length - 1;
      const between = isLast ? coda : [...coda, ...parts[k + 1]!.onset];
      const until = isLast ? onBeat[k]! + line[k]![2] * BEAT_SECONDS : onBeat[k + 1]!;
      const room = until - onBeat[k]! - LEAST_VOWEL_SECONDS;
      const squeeze = Math.min(1, room / total(between));
      for (const planned of between) planned.seconds *= squeeze;
      const vowelIndex = timed.length + onset.length;
      for (const planned of onset) put(planned, planned.seconds, vowelIndex, note);
      put(vowel, until - total(between) - now, vowelIndex, note);
      for (const planned of coda) put(planned, planned.seconds, vowelIndex, note);
    });
    lineSeconds += (line.reduce((beats, syllable) => beats + syllable[2], 0) + REST_BEATS) * BEAT_SECONDS;
  }
  put(silence, lineSeconds - now, -1, timed.at(-1)!.note);
  return timed;
}

function beatTimes(line: readonly Syllable[], startSeconds: number): number[] {
  let seconds = startSeconds;
  return line.map(([, , beats]) => {
    const onBeat = seconds;
    seconds += beats * BEAT_SECONDS;
    return onBeat;
  });
}

function plan(
  [, phones]: Syllable,
  singer: Singer,
  uniform: (least: number, most: number) => number,
): { onset: Planned[]; vowel: Planned; coda: Planned[] } {
  const all = phones.split(' ').flatMap((token) => {
    const planned = planPhone(token, singer, uniform);
    const closure = CLOSURES[planned.label];
    return closure ? [planPhone(closure, singer, uniform), planned] : [planned];
  });
  const at = all.findIndex(({ label }) => PHONES[label].kind === 'vowel');
  return { onset: all.slice(0, at), vowel: all[at]!, coda: all.slice(at + 1) };
}

/** Reads a token such as `s+2`: phone, then level in dB re the vowel where the song states one. */
function planPhone(token: string, singer: Singer, uniform: (least: number, most: number) => number): Planned {
  const [, label, level] = /^([a-z]+)([+-]?\d+)?$/.exec(token)!;
  const phone: Phone = PHONES[label as PhoneLabel];
  const levelDb = phone.noise
    ? Number(level ?? phone.noise.levelDb) + uniform(-singer.unevenDb, singer.unevenDb)
    : null;
  return { label: label as PhoneLabel, seconds: phone.seconds * uniform(0.9, 1.15), levelDb };
}

function noteOf([, , , step]: Syllable, singer: Singer): number {
  const degree = step + singer.steps;
  const octave = Math.floor(degree / 7);
  return singer.keyNote + 12 * octave + MAJOR_SCALE[degree - 7 * octave]!;
}

function total(planned: readonly Planned[]): number {
  return planned.reduce((seconds, { seconds: own }) => seconds + own, 0);
}

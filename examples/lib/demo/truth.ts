import type { PhoneKind } from './phones.js';
import type { TimedPhone } from './schedule.js';

/** What a stretch of a take holds, known because it was made so. Half-open; in samples. */
export interface TruthEntry {
  /** Onset: where the fade of a noise passes half its amplitude (−6 dB). */
  readonly startSample: number;
  /** Offset, likewise; the next entry starts here. */
  readonly endSample: number;
  /** Phone, in the letters of `PHONES`. `cl` is the silent closure before t, k or ch, `bar` the voiced one before d. */
  readonly label: string;
  readonly kind: PhoneKind;
  /** RMS of a noise re the vowel that it leans on, in dB; null where there is none. */
  readonly levelDb: number | null;
}

/** The truth of a schedule: entries that touch, from the first sample to the last. */
export function truthOf(phones: readonly TimedPhone[]): readonly TruthEntry[] {
  return phones.map(({ label, phone, startSample, endSample, levelDb }) => ({
    startSample,
    endSample,
    label,
    kind: phone.kind,
    levelDb,
  }));
}

/** One line per entry: start seconds, end seconds, label, parted by tabs. A microsecond is finer than any sample. */
export function toTsv(truth: readonly TruthEntry[], sampleRateHz: number): string {
  return truth
    .map(({ startSample, endSample, label }) =>
      [(startSample / sampleRateHz).toFixed(6), (endSample / sampleRateHz).toFixed(6), label].join('\t'),
    )
    .join('\n')
    .concat('\n');
}

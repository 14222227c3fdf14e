import { checkNumber, checkSampleRate } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';

/** Settings of detectCymbals. All but the sample rate have a default: DEFAULT_CYMBAL_OPTIONS. */
export interface CymbalOptions {
  /** Samples per second, 8,000 to 192,000. No default: nobody can guess it. */
  readonly sampleRateHz: number;
  /** Strokes below this confidence are left out; 0 to 1. */
  readonly minConfidence?: number;
  /** A stroke lifts the bands above 4 kHz by at least this, on average over the bands, in dB; 1 to 30. */
  readonly leastRiseDb?: number;
  /** Two strokes lie at least this far apart, in seconds, 0.01 to 0.5: of nearer ones the sharper is kept. */
  readonly leastGapSeconds?: number;
  /** A stroke ends where it has fallen this far below its crest, in dB, 6 to 60, if nothing ends it before. */
  readonly endBelowDb?: number;
  /** Sounds shorter than this are left out, in seconds, 0 to 0.5. */
  readonly leastDurationSeconds?: number;
  /** Strokes more than this below the loudest one of the clip are doubted, in dB, 6 to 120. */
  readonly rangeDb?: number;
  /**
   * A stroke of even chance has this much more power above 7 kHz than around 1.5 kHz, in dB, −60 to 60: what tells a cymbal
   * from a snare drum that leaks in.
   */
  readonly leastBrightnessDb?: number;
}

/**
 * Defaults of detectCymbals.
 *
 * - `minConfidence` 0.5, the even chance.
 * - `leastRiseDb` 3: the beats of a ring's partials lift one band, not all of them; steady noise stays below 3 dB.
 * - `leastGapSeconds` 0.025: a fast roll has 70 ms between strokes, the two of a flam about 30 (common practice, no source).
 * - `endBelowDb` 30: a ring 30 dB down is heard no more under what follows (our choice; reverberation time is read from
 *   20 or 30 dB of decay in ISO 3382, from memory).
 * - `leastDurationSeconds` 0.004: longer than a click; a soft stroke stands out of a loud ring for little more.
 * - `rangeDb` 40 and `leastBrightnessDb` −5: measured on drum samples (see docs/examples/cymbals.md).
 */
export const DEFAULT_CYMBAL_OPTIONS: Readonly<Required<Omit<CymbalOptions, 'sampleRateHz'>>> = Object.freeze({
  minConfidence: 0.5,
  leastRiseDb: 3,
  leastGapSeconds: 0.025,
  endBelowDb: 30,
  leastDurationSeconds: 0.004,
  rangeDb: 40,
  leastBrightnessDb: -5,
});

/** Settings that have been checked and filled in. */
export type CymbalSettings = Readonly<Required<CymbalOptions>>;

/** Checks the options of the function that is named and fills in the defaults. */
export function cymbalSettings(functionName: string, options: CymbalOptions): CymbalSettings {
  const settings = checkedOptions(functionName, DEFAULT_CYMBAL_OPTIONS, options, [
    'sampleRateHz',
  ]) as CymbalSettings;
  checkSampleRate(functionName, settings.sampleRateHz);
  checkNumber(functionName, 'minConfidence', settings.minConfidence, 0, 1);
  checkNumber(functionName, 'leastRiseDb', settings.leastRiseDb, 1, 30);
  checkNumber(functionName, 'leastGapSeconds', settings.leastGapSeconds, 0.01, 0.5);
  checkNumber(functionName, 'endBelowDb', settings.endBelowDb, 6, 60);
  checkNumber(functionName, 'leastDurationSeconds', settings.leastDurationSeconds, 0, 0.5);
  checkNumber(functionName, 'rangeDb', settings.rangeDb, 6, 120);
  checkNumber(functionName, 'leastBrightnessDb', settings.leastBrightnessDb, -60, 60);
  return settings;
}

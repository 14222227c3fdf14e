import { checkChoice, checkObject } from './check.js';
import { type LoudnessOptions, loudnessOfPower, loudnessSteps, slidingMeans } from './loudness-steps.js';
import type { Channels, Doubles } from './samples.js';

/** `momentary`: windows of 400 ms. `shortTerm`: windows of 3 s. */
export type LoudnessWindow = 'momentary' | 'shortTerm';

/** Which windows {@link loudnessTrack} slides. */
export interface LoudnessTrackOptions extends LoudnessOptions {
  /** How long the windows are. */
  readonly window: LoudnessWindow;
}

/** Loudness over time. Window k covers windowSamples samples from k·stepSamples on. */
export interface LoudnessTrack {
  /** Sample rate in Hz. */
  readonly sampleRateHz: number;
  /** Length of a window in samples. */
  readonly windowSamples: number;
  /** Distance of the starts of neighbouring windows in samples. */
  readonly stepSamples: number;
  /** Loudness of each whole window in LUFS; −Infinity in silence. */
  readonly lufs: Doubles;
}

/** 100 ms steps in a window of each kind. */
const STEPS: Readonly<Record<LoudnessWindow, number>> = Object.freeze({ momentary: 4, shortTerm: 30 });
/** Blocks at or below this loudness never count. */
const ABSOLUTE_GATE_LUFS = -70;
/** Nor do blocks this far below the mean of those that passed the absolute gate. */
const RELATIVE_GATE_LU = -10;

/**
 * Integrated (programme) loudness in LUFS: blocks of 400 ms, 75 % overlapped, K-weighted, gated at −70 LUFS and then at
 * 10 LU below the mean of what remains.
 *
 * @param channels One channel, or several of equal length in the order L R C Ls Rs.
 * @param options Sample rate, and channel weights for other layouts.
 * @returns Loudness in LUFS (the standard's LKFS); −Infinity where no block passes the gate: an empty or silent clip, or
 * one shorter than 400 ms.
 * @throws TypeError or RangeError for wrong options or channels, or NaN or Infinity in samples (with the index).
 * @see ITU-R BS.1770; EBU R 128.
 * @example
 * import { integratedLoudness } from 'lenition/signal';
 * const tone = Float32Array.from({ length: 48000 }, (_, n) => Math.sin((2 * Math.PI * 997 * n) / 48000));
 * integratedLoudness(tone, { sampleRateHz: 48000 }).toFixed(2); // => "-3.01"
 */
export function integratedLoudness(channels: Channels, options: LoudnessOptions): number {
  const { powers } = loudnessSteps('integratedLoudness', channels, options);
  const blocks = slidingMeans(powers, STEPS.momentary);
  const audible = blocks.filter((power) => loudnessOfPower(power) > ABSOLUTE_GATE_LUFS);
  const gate = loudnessOfPower(mean(audible)) + RELATIVE_GATE_LU;
  return loudnessOfPower(mean(audible.filter((power) => loudnessOfPower(power) > gate)));
}

/**
 * Momentary (400 ms) or short-term (3 s) loudness over time, a value every 100 ms, ungated.
 *
 * @param channels One channel, or several of equal length in the order L R C Ls Rs.
 * @param options Sample rate, window, and channel weights for other layouts. A step is round(rate / 10) samples.
 * @returns A track that says its own windows; it is empty for a clip shorter than one window.
 * @throws TypeError or RangeError for wrong options or channels, or NaN or Infinity in samples (with the index).
 * @see EBU Tech 3341, "Loudness Metering: EBU Mode metering".
 * @example
 * import { loudnessTrack } from 'lenition/signal';
 * const track = loudnessTrack(new Float32Array(48000), { sampleRateHz: 48000, window: 'momentary' });
 * Array.from(track.lufs); // => [-Infinity, -Infinity, -Infinity, -Infinity, -Infinity, -Infinity, -Infinity]
 */
export function loudnessTrack(channels: Channels, options: LoudnessTrackOptions): LoudnessTrack {
  checkObject('loudnessTrack', 'options', options);
  checkChoice('loudnessTrack', 'window', options.window, ['momentary', 'shortTerm'] as const);
  const { stepSamples, powers } = loudnessSteps('loudnessTrack', channels, options);
  const steps = STEPS[options.window];
  return Object.freeze({
    sampleRateHz: options.sampleRateHz,
    windowSamples: steps * stepSamples,
    stepSamples,
    lufs: slidingMeans(powers, steps).map(loudnessOfPower),
  });
}

/** Mean, 0 where there is nothing, so that its loudness is −Infinity. */
function mean(values: Doubles): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

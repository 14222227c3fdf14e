import { PHONE_SCORING } from '../../src/evaluation/phone-tally.js';
import { sharedSeconds, TIME_SLACK_SECONDS } from '../../src/evaluation/sound-event.js';
import { joinedSpans, type TimeSpan } from '../../src/evaluation/time-spans.js';
import { highPass, lowPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import type { Samples } from '../../src/signal/samples.js';
import type { LabelledClip } from './corpus.js';
import { secondsBetween } from './seconds-between.js';

/** Where a voice carries: its fundamental and its first formant. */
const LOW_HZ = 80;
const HIGH_HZ = 1000;
/** Levels are those of 10 ms, every 2.5 ms. */
const WINDOW_SECONDS = 0.01;
const STEP_SECONDS = 0.0025;

/** The voice sounds where its band is within this many dB of the loudest 10 ms of the same run of vowels, nasals and glides. */
export const SOUNDING_DB = 12;

/**
 * The part of `voicedCutSeconds` in which a voice can be heard at all. Labels call a vowel voiced from its first frame to its last, but many
 * begin early, and the r of "press", the w of "swing" and the vowel of a whispered syllable are noise. `regions` are those of harsh kinds.
 */
export function soundingCutSeconds(clip: LabelledClip, regions: readonly TimeSpan[]): number {
  const runs = joinedSpans(clip.labels.filter(({ phoneClass }) => phoneClass === 'sonorant'));
  let power: ((seconds: number) => number) | undefined;
  let sum = 0;
  for (const region of regions)
    for (const run of runs) {
      if (sharedSeconds(region, run) <= PHONE_SCORING.voicedReachSeconds + TIME_SLACK_SECONDS) continue;
      power ??= voicePower(clip);
      const least = 10 ** (-SOUNDING_DB / 10) * loudest(power, run);
      const from = Math.max(region.startSeconds, run.startSeconds);
      const to = Math.min(region.endSeconds, run.endSeconds);
      for (let t = from; t < to; t += STEP_SECONDS)
        if (power(t) > least) sum += Math.min(STEP_SECONDS, to - t);
    }
  return sum;
}

/**
 * How loud the voice is through half of a region or more, in dB: its median level against the loudest 10 ms of the run of vowels, nasals and
 * glides nearest to it, which a region in a pause does not touch. It sounds above -`SOUNDING_DB`. Null where there is no such run.
 */
export function voiceInsideDb(clip: LabelledClip, region: TimeSpan): number | null {
  const runs = joinedSpans(clip.labels.filter(({ phoneClass }) => phoneClass === 'sonorant'));
  const nearest = [...runs].sort((a, b) => secondsBetween(region, a) - secondsBetween(region, b))[0];
  if (nearest === undefined) return null;
  const power = voicePower(clip);
  const inside: number[] = [];
  for (let t = region.startSeconds; t < region.endSeconds; t += STEP_SECONDS) inside.push(power(t));
  const median = inside.sort((a, b) => a - b)[Math.floor(inside.length / 2)] ?? 0;
  return 10 * Math.log10(median / loudest(power, nearest));
}

function loudest(power: (seconds: number) => number, run: TimeSpan): number {
  let most = 0;
  for (let t = run.startSeconds; t < run.endSeconds; t += STEP_SECONDS) most = Math.max(most, power(t));
  return most;
}

/** Sum of squares in the voice's band over the window about a time. */
function voicePower({ channels, sampleRateHz }: LabelledClip): (seconds: number) => number {
  const band = filterSamples(channels[0] as Samples, [
    highPass({ sampleRateHz, frequencyHz: LOW_HZ }),
    lowPass({ sampleRateHz, frequencyHz: HIGH_HZ }),
  ]);
  const sums = new Float64Array(band.length + 1);
  for (let n = 0; n < band.length; n++) sums[n + 1] = (sums[n] as number) + (band[n] as number) ** 2;
  const sumTo = (seconds: number): number =>
    sums[Math.max(0, Math.min(band.length, Math.round(seconds * sampleRateHz)))] as number;
  return (seconds) => sumTo(seconds + WINDOW_SECONDS / 2) - sumTo(seconds - WINDOW_SECONDS / 2);
}

import type { FrameSpan } from './find-phrases.js';
import { standsOut } from './pause-sounds.js';
import type { TakeAnalysis } from './take-analysis.js';
import { TAKE_BANDS } from './take-levels.js';

/** Bands of a breath: 700 Hz to 5.6 kHz. It has its bump near 1.6 kHz (Nakano et al. 2008, from memory) and hisses above. */
const FIRST_BREATH_BAND = 4;
const END_BREATH_BAND = 7;
/** Air has no partials: flatness, in dB, of plain noise is −2.5 and less where its spectrum bends. */
const LEAST_FLATNESS_DB = -8;
/** A breath is no rumble and no hum: power from 90 to 350 Hz at most this over that of its bands, in dB. */
const MOST_LOW_DB = 3;
/** It is air and not voice: at least this under the voice, in dB. */
const LEAST_UNDER_VOICE_DB = 8;
/** Frames apart that one breath may be interrupted, and the longest. */
const JOIN_SECONDS = 0.045;
const MOST_SECONDS = 2.5;

/** Above digital silence everything stands infinitely far; a reason holds finite numbers. */
const MOST_ABOVE_DB = 200;
/** Share of a breath's frames that are softer than its loud part. */
const LOUD_SHARE = 0.7;
/** A breath may dip under half its amplitude for so many frames. */
const MOST_DIP_FRAMES = 2;

/** A breath between phrases. */
export interface BreathSpan extends FrameSpan {
  /** How far its weakest band stands above the floor, in dB. */
  readonly aboveDb: number;
}

/** Finds breaths by rule: airy sound between phrases, above the floor all through the middle of the spectrum. */
export function breathSpans(
  { levels, pauses, phrases, frames }: TakeAnalysis,
  rule: { readonly leastSeconds: number; readonly aboveDb: number },
): readonly BreathSpan[] {
  const aboveRatio = 10 ** (rule.aboveDb / 10);
  const endBand = Math.min(END_BREATH_BAND, levels.usableBands);
  const runs: { from: number; to: number }[] = [];
  for (let t = 0; t < levels.frameCount; t++) {
    if (pauses.inPhrase[t] === 1 || !isAir(t)) continue;
    const last = runs[runs.length - 1];
    const near = last !== undefined && t - last.to <= frames(JOIN_SECONDS);
    if (near && pauses.inPhrase.subarray(last.to, t).every((x) => x === 0)) last.to = t + 1;
    else runs.push({ from: t, to: t + 1 });
  }
  return runs
    .map(halfAmplitude)
    .filter(({ from, to }) => to - from >= frames(rule.leastSeconds) && to - from <= frames(MOST_SECONDS))
    .map(({ from, to }) => ({ from, to, aboveDb: aboveDb(from, to) }));

  function isAir(t: number): boolean {
    const at = t * TAKE_BANDS;
    let power = 0;
    let flat = 0;
    for (let band = FIRST_BREATH_BAND; band < endBand; band++) {
      const own = levels.powers[at + band] as number;
      // The frame's own power: a smoothed one would hear the s that follows a breath.
      if (!standsOut(own, pauses, phrases, t, band, aboveRatio)) return false;
      power += own;
      flat += own * 10 * Math.log10(levels.flatness[at + band] as number);
    }
    const low = (levels.powers[at + 1] as number) + (levels.powers[at + 2] as number);
    return (
      flat > LEAST_FLATNESS_DB * power &&
      low < power * 10 ** (MOST_LOW_DB / 10) &&
      power < (phrases.voicePowers[t] as number) * 10 ** (-LEAST_UNDER_VOICE_DB / 10)
    );
  }

  /** Its middle and what lies around it, out to half the amplitude of its loud part: an s after a short rest is left out. */
  function halfAmplitude({ from, to }: FrameSpan): FrameSpan {
    const air = Array.from({ length: to - from }, (_, i) => airPower(from + i));
    const loud = [...air].sort((a, b) => a - b)[Math.floor(LOUD_SHARE * air.length)] as number;
    const reach = (at: number, step: number): number => {
      let last = at;
      for (let i = at; i >= 0 && i < air.length && Math.abs(i - last) <= MOST_DIP_FRAMES; i += step)
        if ((air[i] as number) > loud / 4) last = i;
      return last;
    };
    const middle = air.length >> 1;
    return { from: from + reach(middle, -1), to: from + reach(middle, 1) + 1 };
  }

  function airPower(t: number): number {
    let power = 0;
    for (let band = FIRST_BREATH_BAND; band < endBand; band++)
      power += levels.powers[t * TAKE_BANDS + band] as number;
    return power;
  }

  function aboveDb(from: number, to: number): number {
    let least = Number.POSITIVE_INFINITY;
    for (let band = FIRST_BREATH_BAND; band < endBand; band++) {
      let power = 0;
      for (let t = from; t < to; t++) power += levels.powers[t * TAKE_BANDS + band] as number;
      const above =
        10 * Math.log10(power / (to - from) / ((pauses.floor[band] as number) + Number.MIN_VALUE));
      least = Math.min(least, MOST_ABOVE_DB, above);
    }
    return least;
  }
}

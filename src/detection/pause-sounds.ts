import type { Doubles } from '../signal/samples.js';
import type { FrameSpan, Phrases } from './find-phrases.js';
import { TAKE_BANDS, type TakeLevels } from './take-levels.js';

/** Frames of a moving mean: 5 of them span 75 ms with their windows' skirts, and tame the ripple of noise. */
const SMOOTH_FRAMES = 2;
/** Share of the frames between phrases that are quieter than the floor. */
const FLOOR_SHARE = 0.15;
/** Power that is silence, beside the voice: −120 dB. */
const SILENT_SHARE = 1e-12;
/** A sound above a take's own floor that nobody hears is none: so far under the voice, in dB, band by band (ears and loudspeakers give little below 180 Hz). */
const LEAST_UNDER_VOICE_DB: readonly number[] = [38, 48, 55, 60, 60, 60, 60, 60];

/** The noise between phrases, smoothed, and the floor that it stands on. */
export interface PauseLevels {
  /** Smoothed mean square per frame and band. */
  readonly powers: Doubles;
  /** Mean square per band of the quiet between phrases. */
  readonly floor: Doubles;
  /** 1 in frames of a phrase. */
  readonly inPhrase: Uint8Array;
}

/** Levels between phrases and their floor: in each band the power that 15 % of those frames stay under. */
export function pauseLevels(levels: TakeLevels, phrases: Phrases): PauseLevels {
  const { frameCount, usableBands } = levels;
  const inPhrase = new Uint8Array(frameCount);
  for (const { from, to } of phrases.spans) inPhrase.fill(1, from, to);
  const powers = smoothed(levels);
  const floor = new Float64Array(TAKE_BANDS);
  for (let band = 0; band < usableBands; band++) {
    const quiet: number[] = [];
    for (let t = 0; t < frameCount; t++) {
      const power = powers[t * TAKE_BANDS + band] as number;
      // Digital silence (or the rounding of a transform shared with a loud frame) is an edit, not the room.
      if (inPhrase[t] === 0 && power > SILENT_SHARE * (phrases.voicePowers[t] as number)) quiet.push(power);
    }
    quiet.sort((a, b) => a - b);
    floor[band] = quiet[Math.floor(FLOOR_SHARE * quiet.length)] ?? 0;
  }
  return { powers, floor, inPhrase };
}

/** Whether a power in a band of a frame stands above the floor and is loud enough beside the voice to matter. */
export function standsOut(
  power: number,
  { floor }: PauseLevels,
  { voicePowers }: Phrases,
  t: number,
  band: number,
  aboveRatio: number,
): boolean {
  const audible = (voicePowers[t] as number) * 10 ** (-(LEAST_UNDER_VOICE_DB[band] as number) / 10);
  return power > aboveRatio * (floor[band] as number) && power > audible;
}

/** Runs of frames between phrases in which any band stands out, joined over short gaps; −Infinity dB takes every frame. */
export function pauseSounds(
  levels: TakeLevels,
  pauses: PauseLevels,
  phrases: Phrases,
  { aboveDb, joinFrames }: { readonly aboveDb: number; readonly joinFrames: number },
): readonly FrameSpan[] {
  const all = aboveDb === Number.NEGATIVE_INFINITY;
  const ratio = 10 ** (aboveDb / 10);
  const out: { from: number; to: number }[] = [];
  for (let t = 0; t < levels.frameCount; t++) {
    if (pauses.inPhrase[t] === 1 || !(all || anyBand(t))) continue;
    const last = out[out.length - 1];
    if (
      last !== undefined &&
      t - last.to <= joinFrames &&
      pauses.inPhrase.subarray(last.to, t).every((x) => x === 0)
    )
      last.to = t + 1;
    else out.push({ from: t, to: t + 1 });
  }
  return out;

  function anyBand(t: number): boolean {
    for (let band = 0; band < levels.usableBands; band++)
      if (standsOut(pauses.powers[t * TAKE_BANDS + band] as number, pauses, phrases, t, band, ratio))
        return true;
    return false;
  }
}

function smoothed({ frameCount, powers }: TakeLevels): Doubles {
  const out = new Float64Array(powers.length);
  for (let t = 0; t < frameCount; t++) {
    const from = Math.max(0, t - SMOOTH_FRAMES);
    const to = Math.min(frameCount, t + SMOOTH_FRAMES + 1);
    for (let band = 0; band < TAKE_BANDS; band++) {
      let sum = 0;
      for (let s = from; s < to; s++) sum += powers[s * TAKE_BANDS + band] as number;
      out[t * TAKE_BANDS + band] = sum / (to - from);
    }
  }
  return out;
}

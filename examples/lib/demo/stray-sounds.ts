import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { ease } from './fade.js';
import type { Random } from './random.js';
import { shapedNoise } from './shaped-noise.js';

/** Sounds that nobody wants in a take, each from its first sample on. Levels in dBFS. */

/** A hum of 50 Hz mains and its partials that comes and goes with a switch, as RMS `levelDb`. */
export function mainsHum(durationSeconds: number, sampleRateHz: number, levelDb: number): Samples {
  const length = Math.round(durationSeconds * sampleRateHz);
  const partials = [
    [50, 0.5],
    [100, 1],
    [150, 0.55],
    [200, 0.4],
    [300, 0.35],
    [450, 0.2],
    [650, 0.12],
  ] as const;
  const rms = Math.sqrt(partials.reduce((sum, [, a]) => sum + (a * a) / 2, 0));
  const gain = amplitudeFromDecibels(levelDb) / rms;
  return Float32Array.from({ length }, (_, i) => {
    const t = i / sampleRateHz;
    const fade = ease(t / 0.04) * ease((durationSeconds - t) / 0.04);
    return gain * fade * partials.reduce((sum, [f, a]) => sum + a * Math.sin(2 * Math.PI * f * t + f), 0);
  });
}

/**
 * What leaks out of headphones: a thin plucked chord and a tick on every beat, nothing below 250 Hz. The tick peaks at `levelDb`; each
 * pluck rings until the next.
 */
export function headphoneBleed(
  beats: number,
  beatSeconds: number,
  sampleRateHz: number,
  levelDb: number,
  random: Random,
): Samples {
  const length = Math.round(beats * beatSeconds * sampleRateHz);
  const out = new Float32Array(length);
  const gain = amplitudeFromDecibels(levelDb);
  const chord = [293.66, 440, 587.33, 880, 1174.7, 1760, 2349.3];
  for (let beat = 0; beat < beats; beat++) {
    const start = Math.round(beat * beatSeconds * sampleRateHz);
    for (let i = start; i < length; i++) {
      const t = (i - start) / sampleRateHz;
      if (t > beatSeconds) break;
      const ring = ease(t / 0.004) * Math.exp(-t / 0.16) * ease((beatSeconds - t) / 0.02);
      const tick = Math.exp(-t / 0.004) * random.normal();
      const pluck = chord.reduce((sum, f, k) => sum + Math.sin(2 * Math.PI * f * t + k) / (1 + k), 0);
      out[i] = gain * (0.45 * ring * pluck + (t < 0.03 ? 0.5 * tick : 0));
    }
  }
  return out;
}

/** A knock on the stand: two low modes that die away within 0.15 s and a dull tap; its peak near `levelDb`. */
export function standKnock(sampleRateHz: number, levelDb: number, random: Random): Samples {
  const length = Math.round(0.18 * sampleRateHz);
  const gain = amplitudeFromDecibels(levelDb);
  let dull = 0;
  const pole = Math.exp((-2 * Math.PI * 900) / sampleRateHz);
  return Float32Array.from({ length }, (_, i) => {
    const t = i / sampleRateHz;
    dull = random.normal() * (1 - pole) + pole * dull;
    const modes =
      Math.exp(-t / 0.035) * Math.sin(2 * Math.PI * 96 * t) +
      0.6 * Math.exp(-t / 0.02) * Math.sin(2 * Math.PI * 232 * t);
    const end = ease((0.18 - t) / 0.03);
    return gain * end * (0.7 * modes + Math.exp(-t / 0.006) * dull * 2 * Math.sqrt(sampleRateHz / 48_000));
  });
}

/** A click of the tongue or lips: 2 to 9 kHz, gone within 4 ms; its peak near `levelDb`. */
export function mouthClick(sampleRateHz: number, levelDb: number, random: Random): Samples {
  const length = Math.round(0.004 * sampleRateHz);
  const noise = shapedNoise(length, sampleRateHz, (f) => (f < 1200 ? 0 : 1 / (1 + (f / 6000) ** 4)), random);
  const out = noise.map(
    (x, i) => x * Math.exp(-i / (0.0006 * sampleRateHz)) * ease(i / (0.0002 * sampleRateHz)),
  );
  const peak = out.reduce((most, x) => Math.max(most, Math.abs(x)), 1e-9);
  return out.map((x) => (x / peak) * amplitudeFromDecibels(levelDb)) as Samples;
}

/** The blow of air of a plosive on the microphone: below 90 Hz, up within 12 ms and down within 0.1 s; its peak `levelDb`. */
export function plosivePop(sampleRateHz: number, levelDb: number): Samples {
  const length = Math.round(0.14 * sampleRateHz);
  const out = Float32Array.from({ length }, (_, i) => {
    const t = i / sampleRateHz;
    const swell = ease(t / 0.012) * Math.exp(-t / 0.045) * ease((0.14 - t) / 0.03);
    return swell * (Math.sin(2 * Math.PI * 34 * t) + 0.4 * Math.sin(2 * Math.PI * 61 * t));
  });
  const peak = out.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return out.map((x) => (x / peak) * amplitudeFromDecibels(levelDb)) as Samples;
}

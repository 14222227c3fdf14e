import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { noiseSpectrum } from './noise-spectrum.js';
import { createRandom } from './random.js';
import type { TimedPhone } from './schedule.js';
import { shapedNoise } from './shaped-noise.js';
import { ROOM_DB } from './take.js';

/** A take with room let into its rests. */
export interface LongerTake {
  readonly samples: Samples;
  readonly phones: readonly TimedPhone[];
  /** What was let in, half-open, in samples: nothing but room. */
  readonly rests: readonly { readonly startSample: number; readonly endSample: number }[];
}

const CROSSFADE_SECONDS = 0.02;
/** The voice's tail reaches half of its 0.13 s fade into a silence. */
const TAIL_SECONDS = 0.075;

/**
 * Lets room tone into every rest before a breath and behind the last word. Room and room are not alike, so the joints are
 * crossed at equal power.
 */
export function lengthenRests(
  take: { readonly samples: Samples; readonly phones: readonly TimedPhone[] },
  sampleRateHz: number,
  restSeconds: number,
  seed: number,
): LongerTake {
  const fade = Math.round(CROSSFADE_SECONDS * sampleRateHz);
  const length = Math.round(restSeconds * sampleRateHz);
  const joints = take.phones.flatMap((timed, k) => {
    const next = take.phones[k + 1]?.label;
    if (timed.label !== 'sil' || (next !== undefined && next !== 'br')) return [];
    // The first silence has no tail in it.
    return [k === 0 ? timed.startSample : timed.startSample + Math.round(TAIL_SECONDS * sampleRateHz)];
  });
  const samples = new Float32Array(take.samples.length + joints.length * length);
  const random = createRandom(seed);
  const rests: { startSample: number; endSample: number }[] = [];
  let from = 0;
  let to = 0;
  for (const joint of joints) {
    samples.set(take.samples.subarray(from, joint + fade), to);
    to += joint - from;
    const room = shapedNoise(length + fade, sampleRateHz, noiseSpectrum('room'), random);
    const level = amplitudeFromDecibels(ROOM_DB);
    for (let i = 0; i < room.length; i++) {
      const rise = Math.sin((Math.PI / 2) * Math.min(1, i / fade));
      const fall = Math.sin((Math.PI / 2) * Math.min(1, (room.length - i) / fade));
      const old = i < fade ? Math.cos((Math.PI / 2) * (i / fade)) * samples[to + i]! : 0;
      const next = i < length ? 0 : Math.cos((Math.PI / 2) * ((room.length - i) / fade));
      samples[to + i] = old + rise * fall * level * room[i]! + next * (take.samples[joint + i - length] ?? 0);
    }
    rests.push({ startSample: to, endSample: to + length });
    to += length;
    // The crossfade has used up the first samples behind the joint.
    from = joint;
    const tail = take.samples.subarray(from + fade);
    samples.set(tail.subarray(0, samples.length - to - fade), to + fade);
  }
  const moved = (sample: number): number => sample + length * joints.filter((joint) => joint < sample).length;
  const phones = take.phones.map((timed) => ({
    ...timed,
    startSample: moved(timed.startSample),
    endSample: moved(timed.endSample),
  }));
  return { samples, phones, rests };
}

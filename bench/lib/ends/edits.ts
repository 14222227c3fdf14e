import type { LabelledClip } from '../corpus.js';
import { changedClip } from './changed-clip.js';

/** Driven `driveDb` past full scale, and cut off there. */
export function clipped(samples: Float32Array, driveDb: number): Float32Array {
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = peak === 0 ? 1 : 10 ** (driveDb / 20) / peak;
  return samples.map((x) => Math.max(-1, Math.min(1, gain * x)));
}

/** Everything that is labelled as a pause set to zero, from one sample to the next. */
export function silentPauses(clip: LabelledClip): LabelledClip {
  const samples = Float32Array.from(clip.channels[0] as Float32Array);
  for (const { startSeconds, endSeconds } of pauses(clip))
    samples.fill(0, Math.round(startSeconds * clip.sampleRateHz), Math.round(endSeconds * clip.sampleRateHz));
  return changedClip(clip, samples);
}

/** Every second phrase `jumpDb` louder than it was; the gain jumps in the middle of the pause. */
export function levelJumps(clip: LabelledClip, jumpDb: number): LabelledClip {
  const samples = Float32Array.from(clip.channels[0] as Float32Array);
  const turns = pauses(clip).map(({ startSeconds, endSeconds }) =>
    Math.round(((startSeconds + endSeconds) / 2) * clip.sampleRateHz),
  );
  const gain = 10 ** (jumpDb / 20);
  for (let k = 0; k < turns.length; k += 2) {
    const end = turns[k + 1] ?? samples.length;
    for (let i = turns[k] as number; i < end; i++) samples[i] = gain * (samples[i] as number);
  }
  return changedClip(clip, samples);
}

const LEAST_PAUSE_SECONDS = 0.1;

/** Pauses of a tenth of a second and more; those that touch are one. */
function pauses({ labels }: LabelledClip): readonly { startSeconds: number; endSeconds: number }[] {
  const joined: { startSeconds: number; endSeconds: number }[] = [];
  for (const { phoneClass, startSeconds, endSeconds } of labels) {
    if (phoneClass !== 'silence') continue;
    const last = joined[joined.length - 1];
    if (last !== undefined && startSeconds - last.endSeconds < 0.005) last.endSeconds = endSeconds;
    else joined.push({ startSeconds, endSeconds });
  }
  return joined.filter(({ startSeconds, endSeconds }) => endSeconds - startSeconds >= LEAST_PAUSE_SECONDS);
}

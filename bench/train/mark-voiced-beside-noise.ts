import { classNumber, frameAt, type LabelledFrames, UNKNOWN } from './labelled-frames.js';

const VOICED = classNumber('voiced');
const SIBILANT = classNumber('sibilant');
const BURST = classNumber('burst');

/** A voice is there within so many dB of a loud vowel. */
const VOICE_DEPTH_DB = 14;
/** It is plain where the noise is so far below its peak and below the voice, in dB. */
const NOISE_OVER_DB = 12;
const BELOW_VOICE_DB = 8;
/** Well inside a sonorant's label, so far below the voice is enough. */
const INSIDE_SECONDS = 0.015;
const BELOW_VOICE_INSIDE_DB = 4;

/**
 * Between a vowel and an s lie frames that the labels leave unknown. Where the voice is plainly there and the noise
 * plainly over, they are voiced: these are the frames that teach the edge.
 */
export function markVoicedBesideNoise(frames: LabelledFrames): void {
  const { targets } = frames;
  const { low, high, loudLow } = frames.levels;
  for (const label of frames.labels) {
    if (label.phoneClass !== 'sonorant') continue;
    const { startSeconds, endSeconds } = label;
    const noisePeak = loudestNoise(frames, startSeconds - 0.06, endSeconds + 0.06);
    const insideFrom = frameAt(frames, startSeconds + (frames.edgesLag ? 0 : INSIDE_SECONDS));
    const insideTo = frameAt(frames, endSeconds - INSIDE_SECONDS);
    const from = Math.max(0, frameAt(frames, startSeconds + 0.005));
    const to = Math.min(targets.length, frameAt(frames, endSeconds - 0.005));
    for (let t = from; t < to; t++) {
      const voice = low[t] as number;
      const noise = high[t] as number;
      if (targets[t] !== UNKNOWN || voice <= loudLow - VOICE_DEPTH_DB) continue;
      const plain = noise < noisePeak - NOISE_OVER_DB && voice > noise + BELOW_VOICE_DB;
      const inside = t >= insideFrom && t < insideTo && voice > noise + BELOW_VOICE_INSIDE_DB;
      if ((plain || inside) && !noiseWithinTwoFrames(targets, t)) targets[t] = VOICED;
    }
  }
}

function loudestNoise(frames: LabelledFrames, startSeconds: number, endSeconds: number): number {
  const { targets, levels } = frames;
  let peak = Number.NEGATIVE_INFINITY;
  const to = Math.min(targets.length, frameAt(frames, endSeconds));
  for (let t = Math.max(0, frameAt(frames, startSeconds)); t < to; t++) {
    const target = targets[t] as number;
    if (target >= SIBILANT && target <= BURST) peak = Math.max(peak, levels.high[t] as number);
  }
  return peak;
}

function noiseWithinTwoFrames(targets: Int8Array, t: number): boolean {
  for (let d = -2; d <= 2; d++) if ((targets[t + d] ?? UNKNOWN) >= SIBILANT) return true;
  return false;
}

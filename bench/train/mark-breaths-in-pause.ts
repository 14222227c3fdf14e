import { bandLevels } from './frame-levels.js';
import { classNumber, type LabelledFrames, mark, UNKNOWN } from './labelled-frames.js';

const BREATH = classNumber('breath');
/** Bands of 1–5.2 kHz, where a breath is noise, and 300–750 Hz, where it would be a voice. */
const NOISE_BANDS = [4, 13] as const;
const VOICE_BANDS = [1, 3] as const;
const LEAST_BREATH_SECONDS = 0.1;
/** So many frames that do not sound like breath end it. */
const MOST_GAP_FRAMES = 6;

/**
 * Singers and speakers breathe in pauses that nobody labelled. A stretch of over 0.1 s that is well above the noise floor, well
 * below the voice, and no lower in pitch than a breath, is taken for one; its first and last frames are not used.
 */
export function markBreathsInPause(frames: LabelledFrames, from: number, to: number): void {
  const sounds = breathLike(frames);
  const end = Math.min(frames.table.frameCount, to);
  let t = Math.max(0, from);
  while (t < end) {
    if (!sounds(t)) {
      t++;
      continue;
    }
    const first = t;
    let last = t;
    for (let gap = 0; t < end && gap < MOST_GAP_FRAMES; t++) {
      if (sounds(t)) {
        last = t;
        gap = 0;
      } else gap++;
    }
    if ((last - first) * frames.table.hopSeconds <= LEAST_BREATH_SECONDS) continue;
    mark(frames, first, last + 1, UNKNOWN);
    mark(frames, first + 3, last - 2, BREATH);
  }
}

function breathLike(frames: LabelledFrames): (t: number) => boolean {
  const { whole, middle, quietMiddle, loud } = frames.levels;
  const noise = bandLevels(frames.table, NOISE_BANDS[0], NOISE_BANDS[1]);
  const voice = bandLevels(frames.table, VOICE_BANDS[0], VOICE_BANDS[1]);
  return (t) => {
    const level = noise[t] as number;
    if (!((middle[t] as number) > quietMiddle + 9 && level > loud - 58)) return false;
    return (whole[t] as number) < loud - 14 && level > (voice[t] as number) - 2;
  };
}

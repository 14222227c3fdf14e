import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { noiseProbability } from '../../src/detection/noise-spans.js';
import type { Doubles } from '../../src/signal/samples.js';

/** Frames from `start` up to `end`. */
export interface FrameStretch {
  readonly start: number;
  readonly end: number;
}

/** The stretches of a class track in which noise stays at `leave` or above and somewhere reaches `enter`. */
export function noiseStretches(track: Doubles, enter: number, leave: number): readonly FrameStretch[] {
  const stretches: FrameStretch[] = [];
  const frameCount = track.length / FRAME_CLASSES.length;
  let start = 0;
  let entered = false;
  for (let frame = 0; frame <= frameCount; frame++) {
    const noise = frame < frameCount ? noiseProbability(track, frame * FRAME_CLASSES.length) : 0;
    if (frame < frameCount && noise >= leave) {
      if (noise >= enter) entered = true;
      continue;
    }
    if (entered) stretches.push({ start, end: frame });
    start = frame + 1;
    entered = false;
  }
  return stretches;
}

import { isObstruent } from '../../src/evaluation/phone-event.js';
import type { LabelledPhone } from '../lib/corpus.js';
import { burstCore } from './burst-core.js';
import { classNumber, frameAt, type LabelledFrames, mark, UNKNOWN } from './labelled-frames.js';

const SILENCE = classNumber('silence');
const SIBILANT = classNumber('sibilant');
const BURST = classNumber('burst');

/** A release comes up to this long after its label ends, in seconds; 0 before an obstruent, which would be mistaken for it. */
const LATE_SECONDS = 0.025;
const LATE_SECONDS_EXACT = 0.005;

/** Frames about a stop that are unknown, before and after. */
const UNKNOWN_BEFORE = 2;
const UNKNOWN_AFTER = 3;
/** Frames before a burst that may be its closure, and how far below the burst and the voice a closure lies, in dB. */
const CLOSURE_FRAMES = 10;
const CLOSURE_BELOW_BURST_DB = 18;
const CLOSURE_BELOW_LOUD_DB = 25;

/**
 * Marks the release of voiceless stops, and the closure before it; the rest of the stop is unknown. So are voiced stops
 * altogether: their release is a few milliseconds long and looks like the first pulse of any vowel after silence.
 */
export function markBursts(frames: LabelledFrames): void {
  for (const [i, label] of frames.labels.entries())
    if (label.phoneClass === 'stop' && !label.voiced) markOne(frames, label, frames.labels[i + 1]);
}

function markOne(frames: LabelledFrames, label: LabelledPhone, next: LabelledPhone | undefined): void {
  const { targets, levels } = frames;
  const late = frames.exactEdges ? LATE_SECONDS_EXACT : next && isObstruent(next) ? 0 : LATE_SECONDS;
  const from = Math.max(0, frameAt(frames, label.startSeconds));
  const to = Math.min(targets.length, frameAt(frames, label.endSeconds + late) + 1);
  if (to - from < 3) return;
  markUnlessSibilant(
    frames,
    Math.max(0, from - UNKNOWN_BEFORE),
    Math.min(targets.length, to + UNKNOWN_AFTER),
    UNKNOWN,
  );

  const core = burstCore(levels, from, to, isT(label));
  if (!core) return;
  markUnlessSibilant(frames, core.first, core.last + 1, BURST);
  for (let t = Math.max(from, core.first - CLOSURE_FRAMES); t < core.first - 1; t++) {
    const closed =
      (core.levels[t] as number) < core.peakLevel - CLOSURE_BELOW_BURST_DB &&
      (levels.whole[t] as number) < levels.loud - CLOSURE_BELOW_LOUD_DB;
    if (closed && targets[t] === UNKNOWN) targets[t] = SILENCE;
  }
}

function markUnlessSibilant(frames: LabelledFrames, from: number, to: number, target: number): void {
  for (let t = from; t < to; t++) if (frames.targets[t] !== SIBILANT) mark(frames, t, t + 1, target);
}

function isT(label: LabelledPhone): boolean {
  return label.phone.toLowerCase() === 't';
}

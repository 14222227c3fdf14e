import { isObstruent } from '../../src/evaluation/phone-event.js';
import type { LabelledPhone } from '../lib/corpus.js';
import { classNumber, frameAt, type LabelledFrames, mark } from './labelled-frames.js';
import { markBreathsInPause } from './mark-breaths-in-pause.js';

const VOICED = classNumber('voiced');
const SILENCE = classNumber('silence');
const BREATH = classNumber('breath');

/** How far inside its label a sonorant, a pause and a breath are believed, in seconds. */
const BESIDE_OBSTRUENT_SECONDS = 0.035;
const BEFORE_SILENCE_SECONDS = 0.05;
const BESIDE_OTHER_SECONDS = 0.012;
const PAUSE_SECONDS = 0.06;
const BREATH_SECONDS = 0.02;

/** Marks the inside of sonorants, silences and breaths. */
export function markRest(frames: LabelledFrames): void {
  for (const [i, label] of frames.labels.entries()) {
    const before = frames.labels[i - 1];
    const after = frames.labels[i + 1];
    if (label.phoneClass === 'sonorant') markSonorant(frames, before, label, after);
    else if (label.phoneClass === 'silence') markSilence(frames, before, label, after);
    else if (label.phoneClass === 'breath')
      mark(
        frames,
        frameAt(frames, label.startSeconds + BREATH_SECONDS),
        frameAt(frames, label.endSeconds - BREATH_SECONDS),
        BREATH,
      );
  }
}

function markSonorant(
  frames: LabelledFrames,
  before: LabelledPhone | undefined,
  label: LabelledPhone,
  after: LabelledPhone | undefined,
): void {
  const startMargin = before && isObstruent(before) ? BESIDE_OBSTRUENT_SECONDS : BESIDE_OTHER_SECONDS;
  let endMargin = after && isObstruent(after) ? BESIDE_OBSTRUENT_SECONDS : BESIDE_OTHER_SECONDS;
  // A vowel dies away before a pause: the label ends later than the voice.
  if (after?.phoneClass === 'silence') endMargin = BEFORE_SILENCE_SECONDS;
  const from = frameAt(frames, label.startSeconds + startMargin);
  mark(frames, from, frameAt(frames, label.endSeconds - endMargin), VOICED);
}

function markSilence(
  frames: LabelledFrames,
  before: LabelledPhone | undefined,
  label: LabelledPhone,
  after: LabelledPhone | undefined,
): void {
  const from = frameAt(frames, label.startSeconds + (before ? PAUSE_SECONDS : 0));
  const to = frameAt(frames, label.endSeconds - (after ? PAUSE_SECONDS : 0));
  const { whole, quiet, loud } = frames.levels;
  // `pau` says only that nobody sang; what is loud there may be anything. Other words for silence mean it.
  const isSilent = (level: number): boolean =>
    label.label !== 'pau' || level < quiet + 8 || level < loud - 50;
  for (let t = Math.max(0, from); t < Math.min(whole.length, to); t++)
    if (!frames.breathesInPauses || isSilent(whole[t] as number)) mark(frames, t, t + 1, SILENCE);
  if (frames.breathesInPauses) markBreathsInPause(frames, from, to);
}

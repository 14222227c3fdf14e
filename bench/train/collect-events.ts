import { DEFAULT_DETECTION_OPTIONS } from '../../src/detection/detection-options.js';
import { FRAME_CLASSES, HOP_SECONDS, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import { EVENT_MARGIN_FRAMES, eventMeasures } from '../../src/detection/event-measures.js';
import type { FrameClassifier } from '../../src/detection/frame-classifier.js';
import { splitByKind } from '../../src/detection/noise-spans.js';
import { splitAtVoice } from '../../src/detection/split-at-voice.js';
import type { Doubles } from '../../src/signal/samples.js';
import { eventTruth } from './event-truth.js';
import { frameInputs } from './frame-inputs.js';
import { classNumber, UNKNOWN } from './labelled-frames.js';
import { noiseStretches } from './noise-stretches.js';
import type { TrainingClip } from './training-clip.js';

/** Measures of an event and what it is: a number of EVENT_CLASSES. */
export interface LabelledEvent {
  readonly measures: Doubles;
  readonly truth: number;
}

const CLASSES = FRAME_CLASSES.length;
const BREATH = classNumber('breath');
/** As in the detector: the margin that measures read, and one frame for the smoothing of kinds. */
const MARGIN = EVENT_MARGIN_FRAMES + 1;

/** Finds the events of a clip as the detector does, measures them, and keeps those whose truth the labels tell. */
export function collectEvents(
  clip: TrainingClip,
  powers: Float64Array<ArrayBuffer>,
  classifier: FrameClassifier,
): readonly LabelledEvent[] {
  const { enterProbability, leaveProbability, leastPartSeconds } = DEFAULT_DETECTION_OPTIONS;
  const leastPartFrames = Math.round(leastPartSeconds / HOP_SECONDS);
  const inputs = frameInputs(powers, clip.frameCount, clip.usableBands);
  const track = new Float64Array(clip.frameCount * CLASSES);
  classifier.classify(inputs, clip.frameCount, track);
  const events: LabelledEvent[] = [];
  for (const { start, end } of noiseStretches(track, enterProbability, leaveProbability)) {
    const from = Math.max(0, start - MARGIN);
    const to = Math.min(clip.frameCount, end + MARGIN);
    const tables = {
      rowCount: to - from,
      bands: powers.subarray(from * ROW_BANDS, to * ROW_BANDS),
      inputs: inputs.subarray(from * INPUT_COUNT, to * INPUT_COUNT),
      track: track.subarray(from * CLASSES, to * CLASSES),
    };
    const parts = splitByKind(tables.track, to - from, start - from, end - from, leastPartFrames);
    for (const part of parts.flatMap((each) => splitAtVoice(tables, each))) {
      // A frame stands for half a hop to each side of its centre.
      const startSeconds = (from + part.start - 0.5) * clip.hopSeconds;
      const endSeconds = (from + part.end - 0.5) * clip.hopSeconds;
      const targets = clip.targets.subarray(from + part.start, from + part.end);
      const breathShare = targets.filter((target) => target === BREATH).length / targets.length;
      const truth = eventTruth(
        { startSeconds, endSeconds, frameClass: part.class, breathShare },
        clip.labels,
      );
      if (truth !== UNKNOWN) events.push({ measures: Float64Array.from(eventMeasures(tables, part)), truth });
    }
  }
  return events;
}

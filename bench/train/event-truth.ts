import { EVENT_CLASSES } from '../../src/detection/event-classifier.js';
import type { LabelledPhone } from '../lib/corpus.js';
import { classNumber, UNKNOWN } from './labelled-frames.js';

const BREATH_FRAMES = classNumber('breath');

/** A found stretch of noise in seconds; `frameClass` is the class that its frames say. */
export interface NoiseEvent {
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly frameClass: number;
  /** Share of its frames whose target is breath: some breaths are known although nobody labelled them. */
  readonly breathShare: number;
}

/** How far a label may be off, before and after, in seconds: a release comes after its label, an aligned f anywhere near. */
const FRICATIVE_SLACK: readonly [number, number] = [0.02, 0.02];
const STOP_SLACK: readonly [number, number] = [0, 0.03];
const SIBILANT_SLACK: readonly [number, number] = [0.05, 0.05];

/**
 * What an event is by the labels, as a number of EVENT_CLASSES, or UNKNOWN where the labels cannot say. A label
 * decides that shares at least half of the shorter of the two; sibilants before fricatives before stops before
 * breaths. Other breath-like noise in a pause is unknown, because hardly anyone labels breaths; so is noise beside a
 * sibilant label, which is most likely the sibilant, labelled too early or too late, and the release of a voiced stop,
 * which may be as loud as that of a t or not there at all.
 */
export function eventTruth(event: NoiseEvent, labels: readonly LabelledPhone[]): number {
  const length = event.endSeconds - event.startSeconds;
  const shared = (label: LabelledPhone, [before, after]: readonly [number, number] = [0, 0]): number =>
    Math.min(label.endSeconds + after, event.endSeconds) -
    Math.max(label.startSeconds - before, event.startSeconds);
  const isThere = (
    phoneClass: LabelledPhone['phoneClass'],
    slack?: readonly [number, number],
    voiced?: boolean,
  ): boolean =>
    labels.some((label) => {
      if (label.phoneClass !== phoneClass || (voiced !== undefined && label.voiced !== voiced)) return false;
      const overlap = shared(label, slack);
      return overlap > 0 && overlap >= 0.5 * Math.min(label.endSeconds - label.startSeconds, length);
    });
  if (isThere('sibilant')) return EVENT_CLASSES.indexOf('sibilant');
  if (isThere('fricative', FRICATIVE_SLACK)) return EVENT_CLASSES.indexOf('fricative');
  if (isThere('stop', STOP_SLACK, false)) return EVENT_CLASSES.indexOf('burst');
  if (isThere('stop', STOP_SLACK, true)) return UNKNOWN;
  if (isThere('breath') || event.breathShare >= 0.5) return EVENT_CLASSES.indexOf('breath');
  const silent = labels
    .filter((label) => label.phoneClass === 'silence')
    .reduce((sum, label) => sum + Math.max(0, shared(label)), 0);
  if (silent > 0.5 * length)
    return event.frameClass === BREATH_FRAMES ? UNKNOWN : EVENT_CLASSES.indexOf('none');
  const nearSibilant = labels.some(
    (label) => label.phoneClass === 'sibilant' && shared(label, SIBILANT_SLACK) > 0.5 * length,
  );
  return nearSibilant ? UNKNOWN : EVENT_CLASSES.indexOf('none');
}

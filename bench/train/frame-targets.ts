import type { LabelledPhone } from '../lib/corpus.js';
import type { BandTable } from './band-table.js';
import { frameLevels } from './frame-levels.js';
import { type LabelledFrames, type LabelQuality, UNKNOWN } from './labelled-frames.js';
import { markBursts } from './mark-bursts.js';
import { markFrication } from './mark-frication.js';
import { markRest } from './mark-rest.js';
import { markVoicedBesideNoise } from './mark-voiced-beside-noise.js';

/**
 * Works out what each frame of a labelled clip is: a class of FRAME_CLASSES by number, or UNKNOWN.
 *
 * Labels of aligned speech are off by up to 50 ms, and a label of t holds its closure too. So a label only says
 * where to look: an s is marked where its noise is, a burst where the level jumps, a vowel well inside its label;
 * what lies between is left unknown. Later rules overrule earlier ones.
 */
export function frameTargets(
  table: BandTable,
  labels: readonly LabelledPhone[],
  quality: LabelQuality,
): Int8Array {
  const targets = new Int8Array(table.frameCount).fill(UNKNOWN);
  const frames: LabelledFrames = { ...quality, table, labels, targets, levels: frameLevels(table) };
  markRest(frames);
  markFrication(frames);
  markBursts(frames);
  markVoicedBesideNoise(frames);
  return targets;
}

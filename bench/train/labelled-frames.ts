import { FRAME_CLASSES, type FrameClass } from '../../src/detection/detection-scale.js';
import type { LabelledPhone } from '../lib/corpus.js';
import type { BandTable } from './band-table.js';
import type { FrameLevels } from './frame-levels.js';

/** Target of a frame that training skips, because its label cannot be trusted that far. */
export const UNKNOWN = -1;

/** What is known of how a clip was labelled. */
export interface LabelQuality {
  /** Edges are true to the sample, so nothing is looked for outside a label. */
  readonly exactEdges: boolean;
  /** Labels come some 30 ms after the sound: seen in the spectrograms of such a folder. */
  readonly edgesLag: boolean;
  /** Pauses labelled `pau` may hold breaths. */
  readonly breathesInPauses: boolean;
}

/** A clip while the classes of its frames are being worked out. */
export interface LabelledFrames extends LabelQuality {
  readonly table: BandTable;
  readonly levels: FrameLevels;
  readonly labels: readonly LabelledPhone[];
  /** Class of each frame, or UNKNOWN: what is being worked out. */
  readonly targets: Int8Array;
}

/** Number that stands for a class. */
export function classNumber(name: FrameClass): number {
  return FRAME_CLASSES.indexOf(name);
}

/** The frame whose centre is nearest to a time; may lie outside the clip. */
export function frameAt(frames: LabelledFrames, seconds: number): number {
  return Math.round(seconds / frames.table.hopSeconds);
}

/** Sets the target of the frames from `from` up to `to`, as far as they lie within the clip. */
export function mark(frames: LabelledFrames, from: number, to: number, target: number): void {
  frames.targets.fill(target, Math.max(0, from), Math.max(0, Math.min(frames.targets.length, to)));
}

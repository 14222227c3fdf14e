import { usableBandCount } from '../../src/detection/band-weights.js';
import type { LabelledClip, LabelledPhone } from '../lib/corpus.js';
import { type BandTable, bandTable } from './band-table.js';
import { frameTargets } from './frame-targets.js';

/** A clip made ready for training: no samples any more, but band powers and what each frame is. */
export interface TrainingClip extends BandTable {
  readonly name: string;
  readonly folder: string;
  readonly voice: string;
  readonly voices: readonly string[];
  readonly recordings: readonly string[];
  readonly labels: readonly LabelledPhone[];
  readonly usableBands: number;
  /** Whether it teaches frames; the others only have events to learn from. */
  readonly teachesFrames: boolean;
  /** Class of each frame, or UNKNOWN. In shared memory. */
  readonly targets: Int8Array;
}

/** A synthesiser does not breathe: its pauses are silence throughout. */
const SYNTHETIC_FOLDER = /^synth/;

/** Measures a labelled clip and derives the class of each frame. */
export function trainingClip(
  clip: LabelledClip,
  { teachesFrames }: { readonly teachesFrames: boolean },
): TrainingClip {
  const { name, folder, voice, voices, recordings, labels, channels, sampleRateHz } = clip;
  const table = bandTable(channels, sampleRateHz);
  const found = frameTargets(table, labels, {
    // Composites have edges that are known to the sample; they are those whose voice comes from another folder.
    edgesLag: folder === 'pjs_singing',
    exactEdges: voice.split(':')[0] !== folder,
    breathesInPauses: !SYNTHETIC_FOLDER.test(folder),
  });
  const targets = new Int8Array(new SharedArrayBuffer(found.length));
  targets.set(found);
  const usableBands = usableBandCount(sampleRateHz);
  return { ...table, name, folder, voice, voices, recordings, labels, usableBands, teachesFrames, targets };
}

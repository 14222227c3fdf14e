import { checkClips } from './label-mean.js';
import { overlapMatching, overlapShare } from './match-by-overlap.js';
import type { SoundEvent } from './sound-event.js';

/** Counts by reference label, then by estimated label. */
export interface ConfusionTable {
  /** Row names: labels of the reference in order of first use, then `none` for estimates without a reference. */
  readonly rows: readonly string[];
  /** Column names: labels of the estimate in order of first use, then `none` for references without an estimate. */
  readonly columns: readonly string[];
  /** `counts[row][column]`; the corner none/none is 0. */
  readonly counts: readonly (readonly number[])[];
}

/**
 * What each labelled event was taken for: events are matched by overlap whatever their label (see `matchByOverlap`).
 *
 * For regions against phones, give the phones their class as label, so that a row says sibilant, stop or breath.
 * `clips`: each clip's truth and what was found in it; times of different clips never meet.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { confusionTable } from 'lenition/evaluation';
 * const t = { startSeconds: 0, endSeconds: 0.1, label: 'stop' };
 * const found = { startSeconds: 0, endSeconds: 0.1, label: 'sibilant' };
 * confusionTable([{ reference: [t], estimate: [found] }]).counts; // => [[1, 0], [0, 0]]
 */
export function confusionTable(
  clips: readonly { readonly reference: readonly SoundEvent[]; readonly estimate: readonly SoundEvent[] }[],
  options: { readonly share?: number } = {},
): ConfusionTable {
  checkClips('confusionTable', clips);
  overlapShare('confusionTable', options);
  const rows = names(clips.flatMap((clip) => clip.reference));
  const columns = names(clips.flatMap((clip) => clip.estimate));
  const counts = rows.map(() => columns.map(() => 0));
  const add = (row: string, column: string): void => {
    const line = counts[rows.indexOf(row)] as number[];
    const c = columns.indexOf(column);
    line[c] = (line[c] as number) + 1;
  };
  for (const { reference, estimate } of clips) {
    const matching = overlapMatching('confusionTable', reference, estimate, options);
    const ref = (r: number): string => (reference[r] as SoundEvent).label;
    const est = (e: number): string => (estimate[e] as SoundEvent).label;
    for (const pair of matching.pairs) add(ref(pair.reference), est(pair.estimate));
    for (const r of matching.unmatchedReference) add(ref(r), NONE);
    for (const e of matching.unmatchedEstimate) add(NONE, est(e));
  }
  return { rows, columns, counts };
}

const NONE = 'none';

function names(events: readonly SoundEvent[]): readonly string[] {
  const labels = new Set(events.map((event) => event.label));
  labels.delete(NONE);
  return [...labels, NONE];
}

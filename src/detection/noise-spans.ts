import type { Doubles } from '../signal/samples.js';
import { FRAME_CLASSES } from './detection-scale.js';

/** A run of frames of one kind: `class` is an index of FRAME_CLASSES, 2 to 5; `end` is exclusive. */
export interface NoiseSpan {
  readonly start: number;
  readonly end: number;
  readonly class: number;
}

const CLASSES = FRAME_CLASSES.length;
const SIBILANT = 2;
const FRICATIVE = 3;
const BURST = 4;
const BREATH = 5;

/** Probability that the frame at `at` is any kind of noise: neither voiced nor silence. */
export function noiseProbability(track: Doubles, at: number): number {
  return 1 - (track[at] as number) - (track[at + 1] as number);
}

/**
 * Cuts one stretch of noise [start, end) of a class track into runs of one kind. Kinds are compared on the mean of
 * three frames; short runs join their longer neighbour; a burst that touches a sibilant or fricative without a
 * closure between belongs to it (the release of an affricate, the breathy end of a t).
 */
export function splitByKind(
  track: Doubles,
  rowCount: number,
  start: number,
  end: number,
  leastRunFrames: number,
): readonly NoiseSpan[] {
  const runs: Run[] = [];
  for (let t = start; t < end; t++) {
    const kind = likeliestKind(track, rowCount, t);
    const last = runs[runs.length - 1];
    if (last?.class === kind) last.end = t + 1;
    else runs.push({ start: t, end: t + 1, class: kind });
  }
  absorbShortRuns(runs, leastRunFrames);
  joinReleases(runs);
  return runs.filter((run) => run.end - run.start >= 2);
}

interface Run {
  start: number;
  end: number;
  class: number;
}

const lengthOf = (run: Run): number => run.end - run.start;

function likeliestKind(track: Doubles, rowCount: number, t: number): number {
  const before = Math.max(0, t - 1) * CLASSES;
  const here = t * CLASSES;
  const after = Math.min(rowCount - 1, t + 1) * CLASSES;
  let best = SIBILANT;
  let most = Number.NEGATIVE_INFINITY;
  for (let kind = SIBILANT; kind < CLASSES; kind++) {
    const sum =
      (track[before + kind] as number) + (track[here + kind] as number) + (track[after + kind] as number);
    if (sum > most) {
      most = sum;
      best = kind;
    }
  }
  return best;
}

function absorbShortRuns(runs: Run[], leastFrames: number): void {
  while (runs.length > 1) {
    let i = 0;
    for (let k = 1; k < runs.length; k++) if (lengthOf(runs[k] as Run) < lengthOf(runs[i] as Run)) i = k;
    const run = runs[i] as Run;
    if (lengthOf(run) >= leastFrames) return;
    const left = runs[i - 1];
    const right = runs[i + 1];
    if (left && (!right || lengthOf(left) >= lengthOf(right))) left.end = run.end;
    else (right as Run).start = run.start;
    runs.splice(i, 1);
    joinEqual(runs);
  }
}

function joinEqual(runs: Run[]): void {
  for (let i = 0; i + 1 < runs.length; ) {
    const a = runs[i] as Run;
    const b = runs[i + 1] as Run;
    if (a.class === b.class) {
      a.end = b.end;
      runs.splice(i + 1, 1);
    } else i++;
  }
}

function joinReleases(runs: Run[]): void {
  for (let i = 0; i + 1 < runs.length; ) {
    const a = runs[i] as Run;
    const b = runs[i + 1] as Run;
    const kind = jointKind(a, b);
    if (kind === undefined) i++;
    else {
      a.class = kind;
      a.end = b.end;
      runs.splice(i + 1, 1);
      joinEqual(runs);
    }
  }
}

/** The kind of two touching runs that are one sound, or undefined where they are two. */
function jointKind(a: Run, b: Run): number | undefined {
  const are = (x: number, y: number): boolean =>
    (a.class === x && b.class === y) || (a.class === y && b.class === x);
  const shorter = Math.min(lengthOf(a), lengthOf(b));
  const longer = lengthOf(a) >= lengthOf(b) ? a : b;
  if (are(BURST, SIBILANT)) return SIBILANT;
  if (are(BURST, FRICATIVE)) return BURST;
  if (are(SIBILANT, FRICATIVE) && shorter < 7) return longer.class;
  if (are(BREATH, FRICATIVE) && shorter < 9) return longer.class;
  return undefined;
}

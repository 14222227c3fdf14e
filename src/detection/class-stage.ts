import type { Doubles } from '../signal/samples.js';
import { checkTrack } from './detection-options.js';
import { FRAME_CLASSES, INPUT_COUNT } from './detection-scale.js';
import type { FrameClassifier } from './frame-classifier.js';
import type { RowNetwork } from './row-network.js';
import type { RowStore } from './row-store.js';

/**
 * The stage from classifier inputs to class probabilities. Beyond an end of the clip the row next to it is repeated: a clip that is cut
 * off in a vowel goes on as a vowel.
 */
export interface ClassStage {
  /** Adds the rows of `track` that `inputs` allow; with `ended`, all of them. */
  advance(inputs: RowStore, ended: boolean, track: RowStore): void;
  /** The first row of inputs that is still needed when `track` ends at this row. */
  neededInput(trackEnd: number): number;
}

const CLASSES = FRAME_CLASSES.length;

/** By a network that takes rows as they come. */
export function networkStage(network: RowNetwork): ClassStage {
  const { contextFrames, frameStep, mostRows, probabilities } = network;
  let next = 0;
  let started = false;
  // Answers that are to come before that to the first row.
  let early = 2 * contextFrames;

  return { advance, neededInput: () => next };

  function advance(inputs: RowStore, ended: boolean, track: RowStore): void {
    if (inputs.end === 0) return;
    if (!started) takeAll(copies(inputs, 0, contextFrames), contextFrames, track, 0);
    started = true;
    const left = (inputs.end - next) % frameStep;
    const whole = inputs.end - next - left;
    takeAll(inputs.data.subarray(inputs.at(next)), whole, track, inputs.end);
    next += whole;
    if (!ended) return;
    // Rows that make no whole step go in with copies of the last one, as many as an answer waits for.
    const copied = contextFrames + ((frameStep - left) % frameStep);
    const tail = new Float64Array((left + copied) * INPUT_COUNT);
    tail.set(inputs.data.subarray(inputs.at(next), inputs.at(inputs.end)));
    tail.set(copies(inputs, inputs.end - 1, copied), left * INPUT_COUNT);
    takeAll(tail, left + copied, track, inputs.end);
    network.end();
  }

  function copies(inputs: RowStore, row: number, count: number): Doubles {
    const rows = new Float64Array(count * INPUT_COUNT);
    const copied = inputs.data.subarray(inputs.at(row), inputs.at(row) + INPUT_COUNT);
    for (let at = 0; at < rows.length; at += INPUT_COUNT) rows.set(copied, at);
    return rows;
  }

  /** Hands in rows and adds the answers to those up to `end`. */
  function takeAll(rows: Doubles, rowCount: number, track: RowStore, end: number): void {
    for (let from = 0; from < rowCount; from += mostRows) {
      const count = Math.min(mostRows, rowCount - from);
      network.take(rows, from * INPUT_COUNT, count);
      const skipped = Math.min(early, count);
      early -= skipped;
      const added = Math.min(count - skipped, end - track.end);
      if (added <= 0) continue;
      // The first place is asked for before the data, which adding may move.
      const place = track.add(added);
      track.data.set(probabilities.subarray(skipped * CLASSES, (skipped + added) * CLASSES), place);
    }
  }
}

/** Frames that are waited for before they are classified: the more, the less is spent on context, the later a region is known. */
const CHUNK_FRAMES = 256;
/** Frames that are classified at once where so many are there. */
const MOST_CHUNK_FRAMES = 1024;

/** By a classifier of the caller's, which is handed whole stretches with context on both sides, and checked. */
export function classifierStage(classifier: FrameClassifier): ClassStage {
  const { contextFrames: context, frameStep = 1 } = classifier;
  // Whole steps, so that the next stretch starts at one too.
  const most = MOST_CHUNK_FRAMES - (MOST_CHUNK_FRAMES % frameStep);
  return { advance, neededInput: (trackEnd) => trackEnd - context };

  function advance(inputs: RowStore, ended: boolean, track: RowStore): void {
    while (ended ? track.end < inputs.end : inputs.end - track.end >= CHUNK_FRAMES + context) {
      const known = inputs.end - context - track.end;
      const end = ended
        ? Math.min(inputs.end, track.end + most)
        : track.end + Math.min(most, known - (known % frameStep));
      classify(inputs, end, track);
    }
  }

  /** Classifies the frames from the end of the track to `end`. */
  function classify(inputs: RowStore, end: number, track: RowStore): void {
    const start = track.end;
    const from = start - context;
    const to = end + context;
    const out = new Float64Array((to - from) * CLASSES);
    classifier.classify(rowsBetween(inputs, from, to), to - from, out);
    checkTrack('detectConsonants', out, context * CLASSES, (end - from) * CLASSES);
    const place = track.add(end - start);
    track.data.set(out.subarray(context * CLASSES, (end - from) * CLASSES), place);
  }
}

/** Rows [from, to) of a store, those beyond its ends repeated. */
function rowsBetween(inputs: RowStore, from: number, to: number): Doubles {
  const first = Math.max(0, from);
  const end = Math.min(inputs.end, to);
  const held = inputs.data.subarray(inputs.at(first), inputs.at(end));
  if (first === from && end === to) return held;
  const rows = new Float64Array((to - from) * INPUT_COUNT);
  rows.set(held, (first - from) * INPUT_COUNT);
  for (let row = from; row < first; row++)
    rows.set(held.subarray(0, INPUT_COUNT), (row - from) * INPUT_COUNT);
  for (let row = end; row < to; row++)
    rows.set(held.subarray(held.length - INPUT_COUNT), (row - from) * INPUT_COUNT);
  return rows;
}

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
  const { contextFrames, mostRows, probabilities } = network;
  let next = 0;
  // Answers that are to come before that to the first row.
  let early = 2 * contextFrames;

  return { advance, neededInput: () => next };

  function advance(inputs: RowStore, ended: boolean, track: RowStore): void {
    if (inputs.end === 0) return;
    if (next === 0) repeat(inputs, 0, track);
    while (next < inputs.end) {
      const rowCount = Math.min(mostRows, inputs.end - next);
      take(inputs.data, inputs.at(next), rowCount, track);
      next += rowCount;
    }
    if (!ended) return;
    repeat(inputs, inputs.end - 1, track);
    network.end();
  }

  /** Hands in as many copies of a row as an answer waits for. */
  function repeat(inputs: RowStore, row: number, track: RowStore): void {
    const copies = new Float64Array(Math.min(mostRows, contextFrames) * INPUT_COUNT);
    for (let at = 0; at < copies.length; at += INPUT_COUNT)
      copies.set(inputs.data.subarray(inputs.at(row), inputs.at(row) + INPUT_COUNT), at);
    for (let left = contextFrames; left > 0; left -= mostRows)
      take(copies, 0, Math.min(mostRows, left), track);
  }

  function take(rows: Doubles, at: number, rowCount: number, track: RowStore): void {
    network.take(rows, at, rowCount);
    const skipped = Math.min(early, rowCount);
    early -= skipped;
    if (skipped === rowCount) return;
    // The first place is asked for before the data, which adding may move.
    const place = track.add(rowCount - skipped);
    track.data.set(probabilities.subarray(skipped * CLASSES, rowCount * CLASSES), place);
  }
}

/** Frames that are waited for before they are classified: the more, the less is spent on context, the later a region is known. */
const CHUNK_FRAMES = 256;
/** Frames that are classified at once where so many are there. */
const MOST_CHUNK_FRAMES = 1024;

/** By a classifier of the caller's, which is handed whole stretches with context on both sides, and checked. */
export function classifierStage(classifier: FrameClassifier): ClassStage {
  const context = classifier.contextFrames;
  return { advance, neededInput: (trackEnd) => trackEnd - context };

  function advance(inputs: RowStore, ended: boolean, track: RowStore): void {
    while (ended ? track.end < inputs.end : inputs.end - track.end >= CHUNK_FRAMES + context)
      classify(
        inputs,
        Math.min(track.end + MOST_CHUNK_FRAMES, ended ? inputs.end : inputs.end - context),
        track,
      );
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

import type { Doubles, Samples } from '../signal/samples.js';
import { createBandMeter } from './band-meter.js';
import { usableBandCount } from './band-weights.js';
import { ownFrameModel } from './consonant-model.js';
import { createConvClassifier } from './conv-classifier.js';
import { checkTrack, type DetectionSettings } from './detection-options.js';
import { BAND_COUNT, FRAME_CLASSES, INPUT_COUNT } from './detection-scale.js';
import { createNoiseEnvelope } from './noise-envelope.js';
import { createRowStore, type RowStore } from './row-store.js';
import { createVoiceReference } from './voice-reference.js';

/** Samples in; band powers, classifier inputs, class probabilities per frame and the fine envelope out. */
export interface ClassTrack {
  readonly hopSamples: number;
  readonly blockSamples: number;
  readonly bands: RowStore;
  readonly inputs: RowStore;
  /** Class probabilities per frame: the last of the tables to be complete. */
  readonly track: RowStore;
  readonly envelope: RowStore;
  push(channels: readonly Samples[]): void;
  flush(): void;
  /** Forgets what lies before this frame, but for what the references and the classifier still need. */
  dropBefore(frame: number): void;
}

/** Frames that are waited for before they are classified: the more, the less is spent on context, the later a region is known. */
const CHUNK_FRAMES = 256;
/** Frames that are classified at once where so many are there. */
const MOST_CHUNK_FRAMES = 1024;
/** Blocks of the envelope kept before the first needed frame, for edges that move outwards. */
const ENVELOPE_MARGIN_BLOCKS = 64;
const CLASSES = FRAME_CLASSES.length;

/** Runs the stages from samples to class probabilities over a stream. */
export function createClassTrack(settings: DetectionSettings, channelCount: number): ClassTrack {
  const { sampleRateHz } = settings;
  const meter = createBandMeter(sampleRateHz, channelCount);
  const noise = createNoiseEnvelope(sampleRateHz, channelCount);
  const reference = createVoiceReference(usableBandCount(sampleRateHz));
  const classifier = settings.classifier ?? createConvClassifier(ownFrameModel());
  const bands = createRowStore(BAND_COUNT);
  const inputs = createRowStore(INPUT_COUNT);
  const track = createRowStore(CLASSES);
  const envelope = createRowStore(1);

  return {
    hopSamples: meter.hopSamples,
    blockSamples: noise.blockSamples,
    bands,
    inputs,
    track,
    envelope,
    push(channels) {
      meter.push(channels, bands);
      noise.push(channels, envelope);
      advance(false);
    },
    flush() {
      meter.flush(bands);
      noise.flush(envelope);
      advance(true);
    },
    dropBefore(frame) {
      bands.dropBefore(Math.min(frame, reference.neededBand));
      inputs.dropBefore(Math.min(frame, track.end - classifier.contextFrames));
      track.dropBefore(frame);
      const block = Math.floor((frame * meter.hopSamples) / noise.blockSamples);
      envelope.dropBefore(block - ENVELOPE_MARGIN_BLOCKS);
    },
  };

  function advance(ended: boolean): void {
    reference.advance(bands, ended, inputs);
    const context = classifier.contextFrames;
    while (ended ? track.end < inputs.end : inputs.end - track.end >= CHUNK_FRAMES + context)
      classify(Math.min(track.end + MOST_CHUNK_FRAMES, ended ? inputs.end : inputs.end - context));
  }

  /**
   * Classifies the frames from the end of the track to `end`, with context on both sides. Beyond an end of the clip the row next to it
   * is repeated: a clip that is cut off in a vowel goes on as a vowel.
   */
  function classify(end: number): void {
    const start = track.end;
    const from = start - classifier.contextFrames;
    const to = end + classifier.contextFrames;
    const rows = rowsBetween(from, to);
    const out = new Float64Array((to - from) * CLASSES);
    classifier.classify(rows, to - from, out);
    checkTrack('detectConsonants', out, (start - from) * CLASSES, (end - from) * CLASSES);
    for (let frame = start; frame < end; frame++) {
      const at = track.add();
      const source = (frame - from) * CLASSES;
      for (let k = 0; k < CLASSES; k++) track.data[at + k] = out[source + k] as number;
    }
  }

  function rowsBetween(from: number, to: number): Doubles {
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
}

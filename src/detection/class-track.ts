import type { Samples } from '../signal/samples.js';
import { createBandMeter } from './band-meter.js';
import { usableBandCount } from './band-weights.js';
import { classifierStage, networkStage } from './class-stage.js';
import { ownFrameModel } from './consonant-model.js';
import type { DetectionSettings } from './detection-options.js';
import { AHEAD_ROWS, FRAME_CLASSES, INPUT_COUNT, ROW_BANDS } from './detection-scale.js';
import { createNoiseEnvelope } from './noise-envelope.js';
import { createRowNetwork } from './row-network.js';
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
  /** Takes the next samples of every channel; with `ended` they are the last, and all tables are completed. */
  push(channels: readonly Samples[], ended?: boolean): void;
  /** Forgets what lies before this frame, and bands before that one, but for what the references and the classifier still need. */
  dropBefore(frame: number, bandsFrame?: number): void;
  /** Says that nothing follows and no table is read any more. */
  release(): void;
}

/** Blocks of the envelope kept before the first needed frame, for edges that move outwards. */
const ENVELOPE_MARGIN_BLOCKS = 64;
const CLASSES = FRAME_CLASSES.length;

/** Runs the stages from samples to class probabilities over a stream. */
export function createClassTrack(settings: DetectionSettings, channelCount: number): ClassTrack {
  const { sampleRateHz, classifier, engine } = settings;
  const meter = createBandMeter(sampleRateHz, channelCount, engine);
  const noise = createNoiseEnvelope(sampleRateHz, channelCount, engine);
  const reference = createVoiceReference(usableBandCount(sampleRateHz), engine);
  const stage = classifier
    ? classifierStage(classifier)
    : networkStage(createRowNetwork(ownFrameModel(), engine));
  const lender = engine?.lender;
  const bands = createRowStore(ROW_BANDS, AHEAD_ROWS, lender);
  const inputs = createRowStore(INPUT_COUNT, 192, lender);
  const track = createRowStore(CLASSES, 192, lender);
  const envelope = createRowStore(1, 4096, lender);

  return {
    hopSamples: meter.hopSamples,
    blockSamples: noise.blockSamples,
    bands,
    inputs,
    track,
    envelope,
    push(channels, ended = false) {
      meter.push(channels, bands);
      noise.push(channels, envelope);
      if (ended) {
        meter.flush(bands);
        noise.flush(envelope);
      }
      reference.advance(bands, ended, inputs);
      stage.advance(inputs, ended, track);
    },
    dropBefore(frame, bandsFrame = frame) {
      bands.dropBefore(Math.min(bandsFrame, reference.neededBand));
      inputs.dropBefore(Math.min(frame, stage.neededInput(track.end)));
      track.dropBefore(frame);
      const block = Math.floor((frame * meter.hopSamples) / noise.blockSamples);
      envelope.dropBefore(block - ENVELOPE_MARGIN_BLOCKS);
    },
    release() {
      for (const table of [bands, inputs, track, envelope, reference]) table.release();
    },
  };
}

import { createBandMeter } from '../../../src/detection/band-meter.js';
import { usableBandCount } from '../../../src/detection/band-weights.js';
import { createClassTrack } from '../../../src/detection/class-track.js';
import { BLOCK_SAMPLES, clipRegions } from '../../../src/detection/clip-regions.js';
import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { detectionSettings } from '../../../src/detection/detection-options.js';
import { INPUT_COUNT, ROW_BANDS } from '../../../src/detection/detection-scale.js';
import { createNoiseEnvelope } from '../../../src/detection/noise-envelope.js';
import { createRowStore, type RowStore } from '../../../src/detection/row-store.js';
import { createVoiceReference } from '../../../src/detection/voice-reference.js';
import type { Samples } from '../../../src/signal/samples.js';

/** Ever more of the detector, each stage with all before it. */
export const STAGES = {
  features,
  references,
  network,
  events,
  detector: (samples: Samples, sampleRateHz: number): unknown =>
    detectConsonants(samples, { sampleRateHz }).regions.length,
} as const;

/** Name of a stage. */
export type Stage = keyof typeof STAGES;

/** The features alone: band powers of each frame and the envelope per millisecond. */
function features(samples: Samples, sampleRateHz: number): unknown {
  return measured(samples, sampleRateHz, () => {});
}

/** And what the network is given: levels relative to the voice around, its noise floor and its loudest noise. */
function references(samples: Samples, sampleRateHz: number): unknown {
  const reference = createVoiceReference(usableBandCount(sampleRateHz));
  const inputs = createRowStore(INPUT_COUNT);
  return measured(samples, sampleRateHz, (bands, ended) => {
    reference.advance(bands, ended, inputs);
    inputs.dropBefore(inputs.end);
    bands.dropBefore(reference.neededBand);
  });
}

/** And the network for frames. */
function network(samples: Samples, sampleRateHz: number): unknown {
  const track = createClassTrack(detectionSettings('detectorStages', { sampleRateHz }), 1);
  for (const { block, ended } of blocksOf(samples)) {
    track.push([block], ended);
    track.dropBefore(track.track.end);
  }
  return track.track.end;
}

/** And everything from class probabilities to regions: smoothing, events, edges. The whole call also checks the samples and makes a list. */
function events(samples: Samples, sampleRateHz: number): unknown {
  return clipRegions([samples], detectionSettings('detectorStages', { sampleRateHz })).length;
}

function measured(
  samples: Samples,
  sampleRateHz: number,
  next: (bands: RowStore, ended: boolean) => void,
): unknown {
  const meter = createBandMeter(sampleRateHz, 1);
  const noise = createNoiseEnvelope(sampleRateHz, 1);
  const bands = createRowStore(ROW_BANDS);
  const envelope = createRowStore(1);
  for (const { block } of blocksOf(samples)) {
    meter.push([block], bands);
    noise.push([block], envelope);
    next(bands, false);
  }
  meter.flush(bands);
  noise.flush(envelope);
  next(bands, true);
  return bands.end + envelope.end;
}

function blocksOf(samples: Samples): { readonly block: Samples; readonly ended: boolean }[] {
  return Array.from({ length: Math.ceil(samples.length / BLOCK_SAMPLES) }, (_, n) => {
    const end = (n + 1) * BLOCK_SAMPLES;
    return { block: samples.subarray(n * BLOCK_SAMPLES, end) as Samples, ended: end >= samples.length };
  });
}

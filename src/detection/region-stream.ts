import { freezeRegion } from '../regions/freeze-region.js';
import { DEFAULT_REGION } from '../regions/insert-region.js';
import type { Region } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import { createClassTrack } from './class-track.js';
import type { DetectionSettings } from './detection-options.js';
import { createEventFinder } from './event-finder.js';

/** The stages from samples to regions over a stream, for callers that have checked what they hand in. */
export interface RegionStream {
  readonly lengthSamples: number;
  /**
   * Takes the next samples of every channel; with `ended` they are the last. Gives the regions that are now certain, or with `waits` none: then
   * the next call says what is certain by then.
   */
  take(channels: readonly Samples[], ended: boolean, waits?: boolean): readonly Region[];
}

/** Starts a stream of so many channels. Region ids count from 1. */
export function createRegionStream(settings: DetectionSettings, channelCount: number): RegionStream {
  const { sampleRateHz, minConfidence, leastDurationSeconds } = settings;
  const track = createClassTrack(settings, channelCount);
  const finder = createEventFinder(settings, track);
  let lengthSamples = 0;
  let nextId = 1;

  return {
    get lengthSamples() {
      return lengthSamples;
    },
    take(channels, ended, waits = false) {
      lengthSamples += (channels[0] as Samples).length;
      track.push(channels, ended);
      const regions: Region[] = [];
      if (waits) return regions;
      for (const event of finder.advance(lengthSamples, ended)) {
        const { onsetSample, offsetSample, kind, confidence, reason } = event;
        if (confidence < minConfidence) continue;
        if (offsetSample - onsetSample < leastDurationSeconds * sampleRateHz) continue;
        regions.push(
          freezeRegion({
            ...DEFAULT_REGION,
            id: nextId++,
            kind,
            onsetSample,
            offsetSample,
            startSample: onsetSample,
            endSample: offsetSample,
            confidence,
            reason,
          }),
        );
      }
      if (ended) track.release();
      return regions;
    },
  };
}

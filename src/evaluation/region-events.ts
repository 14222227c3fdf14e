import { REGION_KINDS, type RegionKind } from '../regions/region.js';
import {
  checkChoice,
  checkInteger,
  checkNumber,
  checkObject,
  checkSampleRate,
  rangeError,
} from '../signal/check.js';
import { checkEach } from './check-spans.js';
import { checkEvents, type SoundEvent } from './sound-event.js';

/** As much of a region as scoring reads; every `Region` is one. */
export interface MeasuredRegion {
  /** What it is believed to hold. */
  readonly kind: RegionKind;
  /** Measured start of the noise, in samples; null where made by hand. */
  readonly onsetSample: number | null;
  /** Measured end of the noise, in samples, exclusive; null where made by hand. */
  readonly offsetSample: number | null;
  /** Used where `onsetSample` is null. */
  readonly startSample?: number;
  /** Used where `offsetSample` is null. */
  readonly endSample?: number;
  /** Belief that the kind is right, 0 to 1. */
  readonly confidence: number;
}

/** A region as an event: `label` is its kind. */
export interface RegionEvent extends SoundEvent {
  /** The kind of the region. */
  readonly label: RegionKind;
  /** Belief that the kind is right, 0 to 1. */
  readonly confidence: number;
}

/** Throws unless each is a sound event with a confidence. */
export function checkRegionEvents(
  functionName: string,
  parameter: string,
  regions: readonly RegionEvent[],
): void {
  checkEvents(functionName, parameter, regions);
  regions.forEach(({ confidence }, i) => {
    checkNumber(functionName, `${parameter}[${i}].confidence`, confidence, 0, 1);
  });
}

/**
 * Regions as events in seconds, by their measured onset and offset; a region made by hand has neither and is taken from
 * its start to its end.
 *
 * `sampleRateHz`: 8,000 to 192,000. Order is kept. A region without any edge, or with its end not after its start, is a RangeError.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { regionEvents } from 'lenition/evaluation';
 * const region = { kind: 'sibilant', onsetSample: 4800, offsetSample: 9600, confidence: 0.9 };
 * regionEvents([region], 48000)[0]?.endSeconds; // => 0.2
 */
export function regionEvents(
  regions: readonly MeasuredRegion[],
  sampleRateHz: number,
): readonly RegionEvent[] {
  checkSampleRate('regionEvents', sampleRateHz);
  checkEach('regionEvents', 'regions', regions, (region, at) => {
    checkObject('regionEvents', at, region);
    checkChoice('regionEvents', `${at}.kind`, region.kind, REGION_KINDS);
    checkNumber('regionEvents', `${at}.confidence`, region.confidence, 0, 1);
  });
  return regions.map((region, i) => {
    const start = region.onsetSample ?? region.startSample;
    const end = region.offsetSample ?? region.endSample;
    checkInteger('regionEvents', `regions[${i}].onsetSample`, start, 0);
    checkInteger('regionEvents', `regions[${i}].offsetSample`, end, 0);
    if (end <= start)
      throw rangeError('regionEvents', `regions[${i}].offsetSample`, `must lie after ${start}`, end);
    return {
      startSeconds: start / sampleRateHz,
      endSeconds: end / sampleRateHz,
      label: region.kind,
      confidence: region.confidence,
    };
  });
}

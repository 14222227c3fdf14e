import { type FadeShape, LEAST_GAIN_DB, type Region } from '../regions/region.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import { fadeGain } from './fade-gain.js';

/** Gain over one region, worked out against its neighbours: fade from `fromDb`, hold `gainDb`, fade to `toDb`. */
export interface RegionGain {
  readonly startSample: number;
  readonly endSample: number;
  /** First sample that has the full gain. */
  readonly fadeInEndSample: number;
  /** First sample of the fade at the end. */
  readonly fadeOutStartSample: number;
  readonly fromDb: number;
  readonly gainDb: number;
  readonly toDb: number;
  /** The same three as amplitude factors. */
  readonly fromGain: number;
  readonly gain: number;
  readonly toGain: number;
  readonly shape: FadeShape;
}

/**
 * Gain over region `index`, or null where the region leaves the audio alone (bypassed, or at 0 dB).
 *
 * Where two active regions touch, the gain goes from one to the other without a visit to 0 dB: if the second has
 * a fade-in, that fade runs from the first's gain and the first's fade-out is not used; else the first's fade-out
 * runs to the second's gain. A region that leaves the audio alone counts as 0 dB, so the fade lies in its neighbour.
 */
export function regionGain(regions: readonly Region[], index: number): RegionGain | null {
  const region = regions[index];
  if (region === undefined || !isActive(region)) return null;
  const before = regions[index - 1];
  const after = regions[index + 1];
  const last = before && before.endSample === region.startSample && isActive(before) ? before : undefined;
  const next = after && after.startSample === region.endSample && isActive(after) ? after : undefined;
  const nextFadesIn = next !== undefined && next.fadeInSamples > 0;
  const gainDb = heardGainDb(region);
  // Each junction of two active regions is one region's affair; for the other the gain is there already.
  const fromDb = last === undefined ? 0 : region.fadeInSamples > 0 ? heardGainDb(last) : gainDb;
  const toDb = next === undefined ? 0 : nextFadesIn ? gainDb : heardGainDb(next);
  return {
    startSample: region.startSample,
    endSample: region.endSample,
    fadeInEndSample: region.startSample + region.fadeInSamples,
    fadeOutStartSample: region.endSample - (nextFadesIn ? 0 : region.fadeOutSamples),
    fromDb,
    gainDb,
    toDb,
    fromGain: amplitudeFromDecibels(fromDb),
    gain: amplitudeFromDecibels(gainDb),
    toGain: amplitudeFromDecibels(toDb),
    shape: region.fadeShape,
  };
}

/** Amplitude factor at a sample inside the region. */
export function regionGainAt(gain: RegionGain, sample: number): number {
  const { startSample, endSample, fadeInEndSample, fadeOutStartSample } = gain;
  if (sample < fadeInEndSample)
    return fadeGain(
      sample - startSample,
      fadeInEndSample - startSample,
      gain.fromGain,
      gain.gain,
      gain.shape,
    );
  if (sample >= fadeOutStartSample)
    return fadeGain(
      sample - fadeOutStartSample,
      endSample - fadeOutStartSample,
      gain.gain,
      gain.toGain,
      gain.shape,
    );
  return gain.gain;
}

function isActive(region: Region): boolean {
  return !region.bypassed && region.gainDb !== 0;
}

function heardGainDb(region: Region): number {
  return Math.max(region.gainDb, LEAST_GAIN_DB);
}

import { type FadeShape, LEAST_GAIN_DB, type Region, type RegionBand } from '../regions/region.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import { fadeValue } from './fade-gain.js';

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
 * Gain over region `index` on the whole spectrum, or null where it has none there: bypassed, at 0 dB, or with a band.
 *
 * Where two active regions touch, the gain goes from one to the other without a visit to 0 dB: if the second has
 * a fade-in, that fade runs from the first's gain and the first's fade-out is not used; else the first's fade-out
 * runs to the second's gain. A region that leaves the audio alone, or works on another band, counts as
 * 0 dB, so the fade lies in its neighbour.
 */
export function regionGain(regions: readonly Region[], index: number): RegionGain | null {
  const region = regions[index];
  return region === undefined || region.band !== undefined ? null : gainOver(region, regions, index);
}

/** Gain over region `index` within its band, or null where it has no band or leaves the audio alone. */
export function bandRegionGain(regions: readonly Region[], index: number): RegionGain | null {
  const region = regions[index];
  return region === undefined || region.band === undefined ? null : gainOver(region, regions, index);
}

function gainOver(region: Region, regions: readonly Region[], index: number): RegionGain | null {
  if (!isActive(region)) return null;
  const before = regions[index - 1];
  const after = regions[index + 1];
  const last =
    before && before.endSample === region.startSample && joins(before, region) ? before : undefined;
  const next = after && after.startSample === region.endSample && joins(after, region) ? after : undefined;
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
  const { startSample, endSample, fadeInEndSample, fadeOutStartSample, fromGain, toGain, shape } = gain;
  if (sample < fadeInEndSample)
    return fadeValue((sample - startSample) / (fadeInEndSample - startSample), fromGain, gain.gain, shape);
  if (sample >= fadeOutStartSample)
    return fadeValue(
      (sample - fadeOutStartSample) / (endSample - fadeOutStartSample),
      gain.gain,
      toGain,
      shape,
    );
  return gain.gain;
}

/** True where a neighbour's gain works on the same part of the spectrum. */
function joins(neighbour: Region, region: Region): boolean {
  return isActive(neighbour) && sameBand(neighbour.band, region.band);
}

function sameBand(a: RegionBand | undefined, b: RegionBand | undefined): boolean {
  return a?.lowHz === b?.lowHz && a?.highHz === b?.highHz;
}

function isActive(region: Region): boolean {
  return !region.bypassed && region.gainDb !== 0;
}

function heardGainDb(region: Region): number {
  return Math.max(region.gainDb, LEAST_GAIN_DB);
}

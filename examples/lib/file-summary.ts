import { REGION_KINDS, type Region, type RegionKind, type RegionList } from '../../src/regions/region.js';
import { totalSamples } from '../../src/regions/total-samples.js';
import { decibelsFromPower } from '../../src/signal/decibels.js';
import { rms } from '../../src/signal/meters.js';
import type { Samples } from '../../src/signal/samples.js';

/** A find below this confidence is listed by time, so that it can be listened to first. */
export const UNCERTAIN_BELOW = 0.9;

/** The figures of one kind of region, or of all. */
export interface KindSummary {
  readonly kind: RegionKind | 'all';
  readonly found: number;
  /** Regions whose gain is heard: not bypassed, not 0 dB. */
  readonly treated: number;
  readonly uncertain: number;
  /** Median of how far the treated ones are turned down, in dB; null where none is. */
  readonly medianCutDb: number | null;
  /** Length of the treated regions together. */
  readonly touchedSeconds: number;
  /** RMS of the loudest region over all channels, before treatment, in dB below a constant full scale. */
  readonly loudestDbfs: number;
  readonly loudestSeconds: number;
}

/** The figures of a treated file: one line a kind that was found, and one for all of them. */
export function summarise(list: RegionList, channels: readonly Samples[]): readonly KindSummary[] {
  const rows = REGION_KINDS.map((kind) => [kind, list.regions.filter((r) => r.kind === kind)] as const);
  return [...rows.filter(([, regions]) => regions.length > 0), ['all', list.regions] as const].map(
    ([kind, regions]) => summariseKind(kind, regions, list.sampleRateHz, channels),
  );
}

/** Regions whose confidence is below UNCERTAIN_BELOW, in order of time. */
export function uncertainRegions(regions: readonly Region[]): readonly Region[] {
  return regions.filter((region) => region.confidence < UNCERTAIN_BELOW);
}

function summariseKind(
  kind: RegionKind | 'all',
  regions: readonly Region[],
  sampleRateHz: number,
  channels: readonly Samples[],
): KindSummary {
  const treated = regions.filter((region) => !region.bypassed && region.gainDb !== 0);
  let loudestPower = -1;
  let loudestSeconds = 0;
  for (const region of regions) {
    const start = region.onsetSample ?? region.startSample;
    const end = region.offsetSample ?? region.endSample;
    let power = 0;
    for (const channel of channels) power += rms(channel.subarray(start, end)) ** 2 / channels.length;
    if (power <= loudestPower) continue;
    loudestPower = power;
    loudestSeconds = start / sampleRateHz;
  }
  return {
    kind,
    found: regions.length,
    treated: treated.length,
    uncertain: uncertainRegions(regions).length,
    medianCutDb: median(treated.map((region) => 0 - region.gainDb)),
    touchedSeconds: totalSamples(treated) / sampleRateHz,
    loudestDbfs: decibelsFromPower(Math.max(loudestPower, 0)),
    loudestSeconds,
  };
}

function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] as number) + upper) / 2;
}

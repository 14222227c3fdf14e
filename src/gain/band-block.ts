import type { Region, RegionBand, RegionList } from '../regions/region.js';
import { type BandShape, bandShape } from './band-kernel.js';

/**
 * A stretch of a region that is filtered by one transform. Blocks are counted from the region's start, so that they,
 * and with them every bit of the result, do not depend on how a clip is cut up.
 */
export interface BandBlock {
  readonly startSample: number;
  readonly endSample: number;
  /** Size of the transform: a power of two that holds the block and the kernel's reach on both sides. */
  readonly fftSize: number;
  readonly shape: BandShape;
}

/** The block of a region with a band that holds a sample. */
export function bandBlock(region: Region, sample: number, sampleRateHz: number): BandBlock {
  const shape = bandShape(region.band as RegionBand, sampleRateHz);
  const { fftSize, hopSamples } = blockSize(region, shape);
  const count = Math.floor((sample - region.startSample) / hopSamples);
  const startSample = region.startSample + count * hopSamples;
  return { startSample, endSample: Math.min(startSample + hopSamples, region.endSample), fftSize, shape };
}

/** How far from a sample inside a region with a band the samples may lie that its block needs, before or after it. */
export function mostReach(list: RegionList): number {
  let most = 0;
  for (const region of list.regions) {
    if (!hasBandGain(region)) continue;
    const shape = bandShape(region.band as RegionBand, list.sampleRateHz);
    const { startSample, endSample } = region;
    const longest = Math.min(blockSize(region, shape).hopSamples, endSample - startSample);
    most = Math.max(most, longest - 1 + shape.reachSamples);
  }
  return most;
}

/** True where a region's gain is heard, and in a band only. */
export function hasBandGain(region: Region): boolean {
  return region.band !== undefined && !region.bypassed && region.gainDb !== 0;
}

/** New samples twice as many as the overlap or more, so that little is filtered twice; fewer for a short region. */
function blockSize(region: Region, shape: BandShape): { fftSize: number; hopSamples: number } {
  const overlap = 2 * shape.reachSamples;
  const wanted = Math.min(region.endSample - region.startSample, Math.max(2 * overlap, 1024));
  let fftSize = 2;
  while (fftSize < overlap + wanted) fftSize *= 2;
  return { fftSize, hopSamples: fftSize - overlap };
}

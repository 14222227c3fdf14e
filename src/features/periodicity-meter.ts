import type { Doubles, Samples } from '../signal/samples.js';
import type { PitchRange } from './pitch-range.js';

/** Rate in Hz that block averages do not fall below. */
const LEAST_BLOCK_RATE_HZ = 8000;

/** Measures periodicity frame by frame with scratch memory of its own. */
export interface PeriodicityMeter {
  /** Periodicity of the frame that starts at index `start` of the channels; places outside them count as 0. */
  measure(channels: readonly Samples[], start: number): number;
}

/** Makes the scratch memory for frames of one length; the formula stands at `periodicity`. */
export function createPeriodicityMeter(
  sampleRateHz: number,
  frameSamples: number,
  range: PitchRange,
): PeriodicityMeter {
  const blockSamples = Math.max(1, Math.floor(sampleRateHz / LEAST_BLOCK_RATE_HZ));
  const blockRateHz = sampleRateHz / blockSamples;
  const blocks = Math.floor(frameSamples / blockSamples);
  const leastLag = Math.max(2, Math.floor(blockRateHz / range.highestHz));
  const greatestLag = Math.min(Math.ceil(blockRateHz / range.lowestHz), Math.floor(blocks / 2));
  // Four lags are summed in one go; zeros behind the last block let them all run to the same end.
  const averages = new Float64Array(blocks + 4);
  const products = new Float64Array(Math.max(0, greatestLag) + 6);
  /** Energy of the first n blocks, over all channels. */
  const energyBefore = new Float64Array(blocks + 1);

  return {
    measure(channels: readonly Samples[], start: number): number {
      if (greatestLag < leastLag) return 0;
      products.fill(0);
      energyBefore.fill(0);
      for (const channel of channels) {
        if (!averageBlocks(channel, start, blockSamples, averages, energyBefore)) continue;
        addProducts(averages, blocks, leastLag - 1, greatestLag + 1, products);
      }
      for (let b = 0; b < blocks; b++)
        energyBefore[b + 1] = (energyBefore[b + 1] as number) + (energyBefore[b] as number);
      return highestPeak(products, energyBefore, leastLag, greatestLag);
    },
  };
}

/**
 * Block averages of one channel without its mean, and its energy added per block to energies[1 …], in units of
 * blocks. False, with nothing added, for a silent channel.
 */
function averageBlocks(
  channel: Samples,
  start: number,
  blockSamples: number,
  averages: Doubles,
  energies: Doubles,
): boolean {
  const blocks = energies.length - 1;
  const from = Math.max(0, start);
  const to = Math.min(channel.length, start + blocks * blockSamples);
  let sum = 0;
  let squares = 0;
  for (let i = from; i < to; i++) {
    const x = channel[i] as number;
    sum += x;
    squares += x * x;
  }
  if (squares === 0) return false;
  // Exact for DC: 32-bit samples leave a double room to sum them without rounding.
  const mean = sum / (blocks * blockSamples);

  for (let b = 0, i = start; b < blocks; b++) {
    let blockSum = 0;
    let blockSquares = 0;
    for (const stop = i + blockSamples; i < stop; i++) {
      const x = (i >= from && i < to ? (channel[i] as number) : 0) - mean;
      blockSum += x;
      blockSquares += x * x;
    }
    averages[b] = blockSum / blockSamples;
    energies[b + 1] = (energies[b + 1] as number) + blockSquares / blockSamples;
  }
  return true;
}

/** Adds Σ y[n]·y[n + lag] to products[lag] for lag = first to last (up to three lags more are written). */
function addProducts(y: Doubles, blocks: number, first: number, last: number, products: Doubles): void {
  for (let lag = first; lag <= last; lag += 4) {
    let p0 = 0;
    let p1 = 0;
    let p2 = 0;
    let p3 = 0;
    for (let n = 0, m = lag; m < blocks; n++, m++) {
      const value = y[n] as number;
      p0 += value * (y[m] as number);
      p1 += value * (y[m + 1] as number);
      p2 += value * (y[m + 2] as number);
      p3 += value * (y[m + 3] as number);
    }
    products[lag] = (products[lag] as number) + p0;
    products[lag + 1] = (products[lag + 1] as number) + p1;
    products[lag + 2] = (products[lag + 2] as number) + p2;
    products[lag + 3] = (products[lag + 3] as number) + p3;
  }
}

/** The highest peak of the normalised products among lags least to greatest, 0 to 1. */
function highestPeak(products: Doubles, energyBefore: Doubles, least: number, greatest: number): number {
  const blocks = energyBefore.length - 1;
  const total = energyBefore[blocks] as number;
  const normalised = (lag: number): number => {
    const energies = (energyBefore[blocks - lag] as number) + total - (energyBefore[lag] as number);
    return energies > 0 ? (2 * (products[lag] as number)) / energies : 0;
  };
  let highest = 0;
  let below = normalised(least - 1);
  let here = normalised(least);
  for (let lag = least; lag <= greatest; lag++) {
    const above = normalised(lag + 1);
    if (here >= below && here >= above) {
      const bend = 2 * here - below - above;
      const height = bend > 0 ? here + (below - above) ** 2 / (8 * bend) : here;
      if (height > highest) highest = height;
    }
    below = here;
    here = above;
  }
  return Math.min(1, highest);
}

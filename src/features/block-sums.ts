import { type FrameGrid, frameStartSample } from '../signal/frame-grid.js';
import type { Samples } from '../signal/samples.js';

/** Energy and changes of sign of a grid's frames: each sample is read once. */
export interface BlockSums {
  /**
   * Reads what frame `frame` has and the frame before it did not; frames must come in order, from frame 0.
   *
   * @param firstSample place of index 0 of the channels in the clip; places outside the channels count as 0
   */
  read(channels: readonly Samples[], firstSample: number, frame: number): void;
  /** Σ x² over the frame last read, of all channels. */
  readonly energy: number;
  /** Changes of sign in that frame, each channel's weighed by its energy: Σ energy·changes. */
  readonly weightedChanges: number;
}

/** No sample of the block was other than 0. */
const NO_SIDE = 2;

/**
 * Sums block by block. Where a frame is so many whole steps, a block is one step; else each step is cut in two where a frame ends, so
 * that every frame is made of whole blocks. A block keeps its energy, its changes of sign and the sides of its first and last sample
 * that is not 0, so the changes of a frame are those of its blocks and those between them: zeros keep the sign before them.
 */
export function createBlockSums(grid: FrameGrid, channelCount: number): BlockSums {
  const { frameSamples, hopSamples } = grid;
  const rest = frameSamples % hopSamples;
  const perStep = rest === 0 ? 1 : 2;
  const perFrame = perStep * Math.floor(frameSamples / hopSamples) + (rest === 0 ? 0 : 1);
  const size = perFrame * channelCount;
  const energies = new Float64Array(size);
  const changes = new Float64Array(size);
  const firstSides = new Uint8Array(size);
  const lastSides = new Uint8Array(size);
  let nextBlock = 0;
  const result = { read, energy: 0, weightedChanges: 0 };
  return result;

  function read(channels: readonly Samples[], firstSample: number, frame: number): void {
    const first = frame * perStep;
    // Where steps are longer than frames, what lies between two frames belongs to none.
    nextBlock = Math.max(nextBlock, first);
    for (; nextBlock < first + perFrame; nextBlock++) {
      const isSecond = nextBlock % perStep === 1;
      const step = Math.floor(nextBlock / perStep);
      const start = frameStartSample(grid, step) - firstSample + (isSecond ? rest : 0);
      const length = perStep === 1 ? hopSamples : isSecond ? hopSamples - rest : rest;
      for (let c = 0; c < channelCount; c++)
        readBlock(channels[c] as Samples, start, start + length, (nextBlock % perFrame) * channelCount + c);
    }
    result.energy = 0;
    result.weightedChanges = 0;
    for (let c = 0; c < channelCount; c++) addChannel(first, c);
  }

  function readBlock(samples: Samples, start: number, stop: number, at: number): void {
    const end = Math.min(samples.length, stop);
    let i = Math.max(0, start);
    while (i < end && samples[i] === 0) i++;
    let side = i < end ? +((samples[i] as number) < 0) : NO_SIDE;
    firstSides[at] = side;
    let energy = 0;
    let count = 0;
    // Sides as the numbers 0 and 1: noise changes sign at random, and a branch on it would be mispredicted.
    for (; i < end; i++) {
      const x = samples[i] as number;
      const here = x === 0 ? side : +(x < 0);
      count += here ^ side;
      side = here;
      energy += x * x;
    }
    energies[at] = energy;
    changes[at] = count;
    lastSides[at] = side;
  }

  function addChannel(first: number, c: number): void {
    let energy = 0;
    let count = 0;
    let side = NO_SIDE;
    for (let block = first; block < first + perFrame; block++) {
      const at = (block % perFrame) * channelCount + c;
      if (firstSides[at] === NO_SIDE) continue;
      if (side !== NO_SIDE && side !== firstSides[at]) count++;
      count += changes[at] as number;
      energy += energies[at] as number;
      side = lastSides[at] as number;
    }
    result.energy += energy;
    result.weightedChanges += energy * count;
  }
}

import { createPeriodicityMeter } from '../features/periodicity-meter.js';
import { DEFAULT_PITCH_RANGE } from '../features/pitch-range.js';
import type { Region, RegionList } from '../regions/region.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { noiseSpan } from './noise-span.js';

/** Length of a block, the step in which voiced sound is looked for: about one period of a low voice. */
const BLOCK_SECONDS = 0.01;
/** Blocks whose sound is judged together: just over two periods of the lowest pitch, the least that shows a period. */
const FRAME_BLOCKS = 3;
/** Share of a frame's energy that repeats at a pitch from which it is voiced: half of it and more. */
const LEAST_PERIODICITY = 0.5;
/** Distance below the loud voice from which on sound is no longer the singer's: hum, bleed, the tail of a room. */
const VOICE_RANGE_DB = 30;

/** Where a clip is voiced, and how loud, in blocks of equal length from its start. */
export interface VoicedTrack {
  readonly blockSamples: number;
  /** Mean square of each whole block about the mean of its surroundings; 0 where it is not voiced. */
  readonly power: Doubles;
}

/**
 * Finds voiced sound without a detector. A block of 10 ms is voiced when it lies outside every region but hand-marked
 * ranges (kind `custom`, which may hold whole phrases), when at least half of the energy of the 30 ms about it repeats
 * at a pitch of 70 to 1000 Hz, and when it is at most 30 dB below the loud voice: Σp²/Σp, the mean power of those
 * blocks, weighted by power. All of it is relative, so the level of the take does not matter; a converter's offset
 * is taken off; steady hum is periodic but far below the voice. Of several channels the powers are averaged.
 *
 * A clip of less than one block has none. Whispered and unpitched voices have none either.
 */
export function voicedTrack(channels: readonly Samples[], list: RegionList): VoicedTrack {
  const { sampleRateHz, lengthSamples } = list;
  const blockSamples = Math.round(BLOCK_SECONDS * sampleRateHz);
  const blockCount = Math.floor(lengthSamples / blockSamples);
  const power = blockPowers(channels, blockSamples, blockCount);
  for (const region of list.regions) clearBlocks(power, blockSamples, region);

  const frameSamples = FRAME_BLOCKS * blockSamples;
  const lead = blockSamples * ((FRAME_BLOCKS - 1) / 2);
  const meter = createPeriodicityMeter(sampleRateHz, frameSamples, DEFAULT_PITCH_RANGE);
  for (let b = 0; b < blockCount; b++) {
    if (power[b] === 0) continue;
    if (meter.measure(channels, b * blockSamples - lead) < LEAST_PERIODICITY) power[b] = 0;
  }
  const leastPower = loudPower(power) / 10 ** (VOICE_RANGE_DB / 10);
  for (let b = 0; b < blockCount; b++) if ((power[b] as number) < leastPower) power[b] = 0;
  return { blockSamples, power };
}

/** Mean square of every whole block about the mean of the block and its two neighbours, averaged over channels. */
function blockPowers(channels: readonly Samples[], blockSamples: number, blockCount: number): Doubles {
  const power = new Float64Array(blockCount);
  const sums = new Float64Array(blockCount);
  const squares = new Float64Array(blockCount);
  for (const channel of channels) {
    for (let b = 0, i = 0; b < blockCount; b++) {
      let sum = 0;
      let square = 0;
      for (const stop = i + blockSamples; i < stop; i++) {
        const x = channel[i] as number;
        sum += x;
        square += x * x;
      }
      sums[b] = sum / blockSamples;
      squares[b] = square / blockSamples;
    }
    for (let b = 0; b < blockCount; b++) {
      const here = sums[b] as number;
      // The mean of one block alone would take part of a low voice off, whose period is as long.
      const mean = ((sums[b - 1] ?? here) + here + (sums[b + 1] ?? here)) / 3;
      const about = Math.max(0, (squares[b] as number) - 2 * mean * here + mean * mean);
      power[b] = (power[b] as number) + about / channels.length;
    }
  }
  return power;
}

function clearBlocks(power: Doubles, blockSamples: number, region: Region): void {
  if (region.kind === 'custom') return;
  const { start, end } = noiseSpan(region);
  power.fill(0, Math.floor(start / blockSamples), Math.ceil(end / blockSamples));
}

/** Mean of the powers, each weighted by itself; 0 where all are. */
function loudPower(power: Doubles): number {
  let sum = 0;
  let squares = 0;
  for (const p of power) {
    sum += p;
    squares += p * p;
  }
  return sum > 0 ? squares / sum : 0;
}

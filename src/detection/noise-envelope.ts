import { highPass } from '../signal/biquad-design.js';
import type { Engine } from '../signal/engine.js';
import type { Samples } from '../signal/samples.js';
import { createBlockPowers } from './block-powers.js';
import type { RowStore } from './row-store.js';

/** Turns a stream of samples into the power above 3.5 kHz per millisecond: the shape of a consonant in time. */
export interface NoiseEnvelope {
  /** Samples per block, about one millisecond. */
  readonly blockSamples: number;
  push(channels: readonly Samples[], rows: RowStore): void;
  flush(rows: RowStore): void;
}

/** At a low sample rate the corner moves down to stay inside the band. */
function cornerHz(sampleRateHz: number): number {
  return Math.min(3500, 0.3 * sampleRateHz);
}

/** Mean square of the high-passed signal per block of 1 ms, averaged over channels; the last block may be short. */
export function createNoiseEnvelope(
  sampleRateHz: number,
  channelCount: number,
  engine?: Engine | null,
): NoiseEnvelope {
  const blockSamples = Math.round(sampleRateHz / 1000);
  const filter = highPass({ sampleRateHz, frequencyHz: cornerHz(sampleRateHz) });
  const powers = (engine?.createBlockPowers ?? createBlockPowers)(filter, channelCount);
  // The block that is not yet complete. Blocks are filtered whole, so that where a stream is cut makes no difference.
  const begun = Array.from({ length: channelCount }, () => new Float32Array(blockSamples));
  let inBlock = 0;

  return { blockSamples, push, flush };

  function push(channels: readonly Samples[], rows: RowStore): void {
    const count = channels[0]?.length ?? 0;
    let from = 0;
    if (inBlock > 0) {
      from = Math.min(count, blockSamples - inBlock);
      keep(channels, 0, from);
      if (inBlock < blockSamples) return;
      addRows(begun, 0, blockSamples, 1, rows);
      inBlock = 0;
    }
    const blockCount = Math.floor((count - from) / blockSamples);
    addRows(channels, from, blockSamples, blockCount, rows);
    keep(channels, from + blockCount * blockSamples, count);
  }

  function flush(rows: RowStore): void {
    if (inBlock > 0) addRows(begun, 0, inBlock, 1, rows);
  }

  function keep(channels: readonly Samples[], from: number, to: number): void {
    for (let c = 0; c < channelCount; c++) {
      const samples = channels[c] as Samples;
      const block = begun[c] as Samples;
      for (let i = from; i < to; i++) block[inBlock + i - from] = samples[i] as number;
    }
    inBlock += to - from;
  }

  function addRows(
    channels: readonly Samples[],
    from: number,
    size: number,
    blockCount: number,
    rows: RowStore,
  ): void {
    // Asked for before the writing: adding may move the rows.
    const at = rows.add(blockCount);
    const { data } = rows;
    for (let c = 0; c < channelCount; c++)
      powers.add(data, at, channels[c] as Samples, from, size, blockCount, c);
    for (let i = at; i < at + blockCount; i++) data[i] = (data[i] as number) / (size * channelCount);
  }
}

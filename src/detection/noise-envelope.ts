import { highPass } from '../signal/biquad-design.js';
import { createBiquadState, filterBlockInto } from '../signal/biquad-filter.js';
import type { Samples } from '../signal/samples.js';
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
export function createNoiseEnvelope(sampleRateHz: number, channelCount: number): NoiseEnvelope {
  const blockSamples = Math.round(sampleRateHz / 1000);
  const filter = highPass({ sampleRateHz, frequencyHz: cornerHz(sampleRateHz) });
  const states = Array.from({ length: channelCount }, () => createBiquadState(1));
  let scratch = new Float32Array(0);
  let inBlock = 0;
  let sum = 0;
  // Powers are added sample by sample, over channels first, so any cut of the stream gives the same rows.
  let powers = new Float64Array(0);

  return { blockSamples, push, flush };

  function push(channels: readonly Samples[], rows: RowStore): void {
    const count = channels[0]?.length ?? 0;
    if (scratch.length !== count) {
      scratch = new Float32Array(count);
      powers = new Float64Array(count);
    }
    for (let c = 0; c < channelCount; c++) {
      filterBlockInto(scratch, channels[c] as Samples, filter, states[c] as (typeof states)[number]);
      for (let i = 0; i < count; i++) {
        const x = scratch[i] as number;
        powers[i] = c === 0 ? x * x : (powers[i] as number) + x * x;
      }
    }
    for (let i = 0; i < count; ) {
      const stop = Math.min(count, i + blockSamples - inBlock);
      inBlock += stop - i;
      for (; i < stop; i++) sum += powers[i] as number;
      if (inBlock === blockSamples) addRow(rows);
    }
  }

  function flush(rows: RowStore): void {
    if (inBlock > 0) addRow(rows);
  }

  function addRow(rows: RowStore): void {
    const at = rows.add();
    rows.data[at] = sum / (inBlock * channelCount);
    sum = 0;
    inBlock = 0;
  }
}

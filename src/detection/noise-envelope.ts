import { highPass } from '../signal/biquad-design.js';
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

/** Below this, what a filter remembers of a sound long past is taken for 0: subnormal doubles are many times slower. */
const LEAST_STATE = 1e-300;

/** Mean square of the high-passed signal per block of 1 ms, averaged over channels; the last block may be short. */
export function createNoiseEnvelope(sampleRateHz: number, channelCount: number): NoiseEnvelope {
  const blockSamples = Math.round(sampleRateHz / 1000);
  const { b0, b1, b2, a1, a2 } = highPass({ sampleRateHz, frequencyHz: cornerHz(sampleRateHz) });
  // Two numbers a channel, and the sum of the block so far: in order of time within each channel, whatever the blocks.
  const states = new Float64Array(2 * channelCount);
  const sums = new Float64Array(channelCount);
  let inBlock = 0;

  return { blockSamples, push, flush };

  function push(channels: readonly Samples[], rows: RowStore): void {
    const count = channels[0]?.length ?? 0;
    for (let from = 0; from < count; ) {
      const to = Math.min(count, from + blockSamples - inBlock);
      for (let c = 0; c < channelCount; c++) addPower(channels[c] as Samples, from, to, c);
      inBlock += to - from;
      from = to;
      if (inBlock === blockSamples) addRow(rows);
    }
  }

  function flush(rows: RowStore): void {
    if (inBlock > 0) addRow(rows);
  }

  /** One channel through the filter of `filterBlockInto`, its squares added up. */
  function addPower(samples: Samples, from: number, to: number, c: number): void {
    let first = states[2 * c] as number;
    let second = states[2 * c + 1] as number;
    let sum = sums[c] as number;
    for (let i = from; i < to; i++) {
      const x = samples[i] as number;
      const y = b0 * x + first;
      first = b1 * x - a1 * y + second;
      second = b2 * x - a2 * y;
      sum += y * y;
    }
    sums[c] = sum;
    states[2 * c] = first;
    states[2 * c + 1] = second;
  }

  function addRow(rows: RowStore): void {
    let sum = 0;
    for (let c = 0; c < channelCount; c++) sum += sums[c] as number;
    // Asked for before the writing: adding may move the rows.
    const at = rows.add();
    rows.data[at] = sum / (inBlock * channelCount);
    sums.fill(0);
    inBlock = 0;
    // Only where a block ends, so that where a stream is cut makes no difference.
    for (let i = 0; i < states.length; i++) if (Math.abs(states[i] as number) < LEAST_STATE) states[i] = 0;
  }
}

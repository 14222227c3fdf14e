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

/** Numbers that are remembered of a channel: its last two samples and what the filter made of them. */
const STATE = 4;

/** Mean square of the high-passed signal per block of 1 ms, averaged over channels; the last block may be short. */
export function createNoiseEnvelope(sampleRateHz: number, channelCount: number): NoiseEnvelope {
  const blockSamples = Math.round(sampleRateHz / 1000);
  const { b0, b1, b2, a1, a2 } = highPass({ sampleRateHz, frequencyHz: cornerHz(sampleRateHz) });
  const states = new Float64Array(STATE * channelCount);
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
      addRow(begun, 0, blockSamples, rows);
      inBlock = 0;
    }
    for (; from + blockSamples <= count; from += blockSamples)
      addRow(channels, from, from + blockSamples, rows);
    keep(channels, from, count);
  }

  function flush(rows: RowStore): void {
    if (inBlock > 0) addRow(begun, 0, inBlock, rows);
  }

  function keep(channels: readonly Samples[], from: number, to: number): void {
    for (let c = 0; c < channelCount; c++) {
      const samples = channels[c] as Samples;
      const block = begun[c] as Samples;
      for (let i = from; i < to; i++) block[inBlock + i - from] = samples[i] as number;
    }
    inBlock += to - from;
  }

  function addRow(channels: readonly Samples[], from: number, to: number, rows: RowStore): void {
    let sum = 0;
    for (let c = 0; c < channelCount; c++) sum += powerOf(channels[c] as Samples, from, to, c * STATE);
    // Asked for before the writing: adding may move the rows.
    const at = rows.add();
    rows.data[at] = sum / ((to - from) * channelCount);
  }

  /**
   * Sum of squares of one channel through the filter. Two samples at a time: y[n] = v[n] − a₁y[n−1] − a₂y[n−2], with v what the zeros
   * make of the input, put into y[n+1] = v[n+1] − a₁y[n] − a₂y[n−1] gives both from the same two, so that half as many steps wait for
   * one another.
   */
  function powerOf(samples: Samples, from: number, to: number, state: number): number {
    const a11 = a1 * a1 - a2;
    const a12 = a1 * a2;
    let x1 = states[state] as number;
    let x2 = states[state + 1] as number;
    let y1 = states[state + 2] as number;
    let y2 = states[state + 3] as number;
    let even = 0;
    let odd = 0;
    let i = from;
    for (; i + 2 <= to; i += 2) {
      const x = samples[i] as number;
      const next = samples[i + 1] as number;
      const v = b0 * x + b1 * x1 + b2 * x2;
      const w = b0 * next + b1 * x + b2 * x1 - a1 * v;
      const y = v - a2 * y2 - a1 * y1;
      y1 = w + a12 * y2 + a11 * y1;
      y2 = y;
      x1 = next;
      x2 = x;
      even += y2 * y2;
      odd += y1 * y1;
    }
    if (i < to) {
      const x = samples[i] as number;
      const y = b0 * x + b1 * x1 + b2 * x2 - a2 * y2 - a1 * y1;
      y2 = y1;
      y1 = y;
      x2 = x1;
      x1 = x;
      even += y * y;
    }
    states[state] = x1;
    states[state + 1] = x2;
    states[state + 2] = Math.abs(y1) < LEAST_STATE ? 0 : y1;
    states[state + 3] = Math.abs(y2) < LEAST_STATE ? 0 : y2;
    return even + odd;
  }
}

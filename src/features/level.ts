import { channelList, checkFinite } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';

/**
 * RMS level of a frame, 10·log10(mean of x²), in dB re full scale (dBFS).
 *
 * 0 dBFS is an RMS of 1: a full-scale square wave. A full-scale sine reads −3.01 dBFS.
 *
 * @param frame Samples of the frame, nominal range −1 to 1, or one array per channel: the channels' mean squares
 * are averaged.
 * @returns Level in dBFS; −Infinity for digital silence and for an empty frame.
 * @throws TypeError for anything but Float32Arrays; RangeError for channels of unequal length and for NaN or
 * Infinity, with its index.
 * @see Common practice; the reference is that of ITU-R BS.1770, where a full-scale sine has a mean square of 1/2.
 * @example
 * import { level } from 'lenition/features';
 * level(Float32Array.of(1, -1, 1, -1)); // => 0
 * level(new Float32Array(4)); // => -Infinity
 */
export function level(frame: Channels): number {
  const channels = channelList('level', frame);
  let sum = 0;
  for (const [c, channel] of channels.entries()) {
    checkFinite('level', `frame[${c}]`, channel);
    sum += sumOfSquares(channel, 0, channel.length);
  }
  const length = channels[0]?.length ?? 0;
  return length === 0 ? Number.NEGATIVE_INFINITY : 10 * Math.log10(sum / (length * channels.length));
}

/** Σ x² of samples start to end − 1. */
export function sumOfSquares(samples: Samples, start: number, end: number): number {
  let sum = 0;
  for (let i = start; i < end; i++) {
    const x = samples[i] as number;
    sum += x * x;
  }
  return sum;
}

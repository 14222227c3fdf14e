import { channelList, checkFinite, checkSampleRate } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { sumOfSquares } from './level.js';

/**
 * Zero crossings per second, both directions: (changes of sign) · sampleRateHz / (samples − 1).
 *
 * Convention for exact zeros: a zero has no sign of its own and keeps that of the last sample that had one. So
 * +, 0, − is one crossing, +, 0, + is none, zeros at the start belong to no side, and turning the polarity round
 * changes nothing. A sine of f Hz crosses 2f times a second.
 *
 * @param frame Samples of the frame, or one array per channel: the channels' rates are averaged with their powers
 * as weights, so that a silent channel has no say.
 * @param sampleRateHz Sample rate in Hz, 8,000 to 192,000.
 * @returns Crossings per second, 0 to sampleRateHz; 0 for silence, DC and fewer than two samples.
 * @throws TypeError for anything but Float32Arrays; RangeError for channels of unequal length, a rate out of range
 * and for NaN or Infinity, with its index.
 * @see Rice, "Mathematical Analysis of Random Noise", 1944/45, for what noise gives.
 * @example
 * import { zeroCrossingRate } from 'lenition/features';
 * zeroCrossingRate(Float32Array.of(1, -1, 1, -1), 8000); // => 8000
 * zeroCrossingRate(Float32Array.of(1, 0, 1, 0, -1), 8000); // => 2000
 */
export function zeroCrossingRate(frame: Channels, sampleRateHz: number): number {
  const channels = channelList('zeroCrossingRate', frame);
  checkSampleRate('zeroCrossingRate', sampleRateHz);
  let energy = 0;
  let weighted = 0;
  for (const [c, channel] of channels.entries()) {
    checkFinite('zeroCrossingRate', `frame[${c}]`, channel);
    const channelEnergy = sumOfSquares(channel, 0, channel.length);
    energy += channelEnergy;
    weighted += channelEnergy * signChanges(channel, 0, channel.length);
  }
  const intervals = (channels[0]?.length ?? 0) - 1;
  return energy > 0 && intervals > 0 ? ((weighted / energy) * sampleRateHz) / intervals : 0;
}

/** Changes of sign among samples start to end − 1; zeros keep the sign before them. */
function signChanges(samples: Samples, start: number, end: number): number {
  let i = start;
  while (i < end && samples[i] === 0) i++;
  let count = 0;
  let side = +((samples[i] as number) < 0);
  // Sides as the numbers 0 and 1: noise changes sign at random, and a branch on it would be mispredicted.
  for (; i < end; i++) {
    const x = samples[i] as number;
    const here = x === 0 ? side : +(x < 0);
    count += here ^ side;
    side = here;
  }
  return count;
}

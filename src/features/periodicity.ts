import { channelList, checkFinite, checkSampleRate } from '../signal/check.js';
import type { Channels } from '../signal/samples.js';
import { createPeriodicityMeter } from './periodicity-meter.js';
import { checkPitchRange, DEFAULT_PITCH_RANGE, type PitchRange } from './pitch-range.js';

/**
 * Periodicity of a frame: the highest peak of its normalised autocorrelation among the lags of a voice's pitch.
 * Near 1 for a sung vowel, low for the noise of a consonant.
 *
 * With the frame's mean taken off, r(L) = 2·Σ y[n]·y[n + L] / Σ (x²[n] + x²[n + L]) over all n that have both. x² is
 * the energy of the whole band; y, in the product, is x averaged over blocks of about 1/8000 s, because what repeats
 * at a pitch lies below 4 kHz and correlation costs the square of the rate. So the value is the share of the frame's
 * energy that repeats, and faint hum or reverberation under a strong s does not make the s periodic. A peak is a
 * lag at which r is not below its neighbours, so that a slow drift, which has none, is not a pitch; its height is
 * read from a parabola through three lags. Lags over half of the frame are not used.
 *
 * @param frame Samples of the frame, at least two periods of the lowest pitch, or one array per channel: the
 * channels' products and energies are summed.
 * @param sampleRateHz Sample rate in Hz, 8,000 to 192,000.
 * @param range Pitches whose periods are looked for.
 * @returns 0 to 1; 0 for silence, DC, and a frame that is too short for any lag of the range.
 * @throws TypeError for anything but Float32Arrays; RangeError for channels of unequal length, a rate or range out of
 * bounds and for NaN or Infinity, with its index.
 * @see McLeod and Wyvill, "A smarter way to find pitch", 2005, for the normalisation.
 * @example
 * import { periodicity } from 'lenition/features';
 * const sine = Float32Array.from({ length: 240 }, (_, n) => Math.sin((2 * Math.PI * 200 * n) / 8000));
 * periodicity(sine, 8000).toFixed(3); // => '1.000'
 * periodicity(new Float32Array(240), 8000); // => 0
 */
export function periodicity(
  frame: Channels,
  sampleRateHz: number,
  range: PitchRange = DEFAULT_PITCH_RANGE,
): number {
  const channels = channelList('periodicity', frame);
  checkSampleRate('periodicity', sampleRateHz);
  checkPitchRange('periodicity', 'range', range);
  for (const [c, channel] of channels.entries()) checkFinite('periodicity', `frame[${c}]`, channel);
  const length = channels[0]?.length ?? 0;
  return createPeriodicityMeter(sampleRateHz, length, range).measure(channels, 0);
}

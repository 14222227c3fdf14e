import { createRegionList } from '../regions/create-region-list.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { channelList, checkFinite } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { clipRegions } from './clip-regions.js';
import { type DetectionOptions, detectionSettings } from './detection-options.js';

/**
 * Finds the harsh consonants and breaths of a recorded voice as regions: sibilant (s z sh zh ch j ts), fricative
 * (f v th h), burst (released t k p d) and breath. Gains and fades are 0: finding changes nothing.
 *
 * How: levels of sixteen bands per 5.33 ms, relative to this voice and its noise floor around each moment; a small
 * network says what each frame may be; stretches of noise are judged as whole events, s against f also by a band above
 * 7.6 kHz where the rate has it; edges are read from a 1 ms envelope at half amplitude. Gain, polarity and order of channels do not matter; powers of channels are averaged.
 *
 * @param channels one channel, or several of equal length; finite samples, any length from 0 on
 * @param options `sampleRateHz` (8,000 to 192,000) and settings; see DetectionOptions
 * @returns regions ordered in time, none overlapping. The confidence says how surely there is a harsh consonant (sibilant,
 * fricative and burst together) or a breath; which of them it may be, `reason.numbers` says: the probability of every kind. It
 * is called sibilant when that holds 0.75 of the harsh ones. Silence, an empty clip or a single sample give an empty list. Below 16 kHz and for
 * narrow-band sound the confidence is lowered: see `bandwidthWarnings`.
 * @throws RangeError for NaN or infinite samples (with the index), channels of different lengths or a setting out of
 * range; TypeError for the wrong kind of value.
 * Source: method measured by bench/accuracy.ts on labelled voices; docs/accuracy.md has the figures.
 *
 * @example
 * import { detectConsonants } from 'lenition';
 * const silence = new Float32Array(48000);
 * const list = detectConsonants(silence, { sampleRateHz: 48000 });
 * list.regions.length; // => 0
 * list.lengthSamples; // => 48000
 */
export function detectConsonants(channels: Channels, options: DetectionOptions): RegionList {
  const list = channelList('detectConsonants', channels);
  const settings = detectionSettings('detectConsonants', options);
  for (let c = 0; c < list.length; c++) checkFinite('detectConsonants', `channels[${c}]`, list[c] as Samples);
  const lengthSamples = (list[0] as Samples).length;
  const regions = clipRegions(list, settings);
  return insertRegions(createRegionList({ sampleRateHz: settings.sampleRateHz, lengthSamples }), regions);
}

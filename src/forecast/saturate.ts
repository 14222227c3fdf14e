import { checkObject, checkSampleRate } from '../signal/check.js';
import type { Channels, NewSamples, Samples } from '../signal/samples.js';
import type { SaturationSettings } from './chain.js';
import { assertSettings } from './chain-rules.js';
import { createSaturationCore } from './saturation-core.js';
import {
  asProcessor,
  checkStream,
  finiteChannels,
  runWhole,
  type StageProcessor,
  type StreamOptions,
  shapedAs,
} from './stage-processor.js';

/** A saturation's settings and the rate that it runs at. */
export interface SaturateOptions extends SaturationSettings {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

/**
 * Saturates a clip by a memoryless curve (saturateValue) that runs at a multiple of the sample rate, so that what it
 * makes below 20 kHz is right: output = (1 − wet)·input + wet·10^(makeUpDb/20)·saturated.
 *
 * Up and down go through linear-phase half-band filters of 100 dB rejection by design; their delay is taken out, so dry
 * and wet line up to the sample. They pass up to 20 kHz (0.4535 of rates under 44.1 kHz, 0.4 of those above 50 kHz);
 * from there to half the rate the wet path falls off. Products that lie above oversampling · rate − 20 kHz fold back:
 * the measured levels stand in docs/forecast.md. A bias leaves a moving offset (it is part of such a curve); a
 * high-pass in a following equaliser takes it out.
 *
 * @param channels One channel or several of equal length, each shaped by itself; not changed. Empty gives empty.
 * @param options Curve, drive, bias, oversampling, make-up, wet and sample rate.
 * @returns New arrays in the shape of the input, lined up with it.
 * @throws TypeError or RangeError for settings outside their ranges, NaN or Infinity in samples (with the index).
 * @see Kaiser, "Nonrecursive digital filter design using the I0-sinh window function", 1974 (the window); the rest is
 * common practice.
 * @example
 * import { saturate } from 'lenition/forecast';
 * const options = { curve: 'clip', driveDb: 6, oversampling: 1, sampleRateHz: 48000 } as const;
 * Array.from(saturate(Float32Array.of(0.25, 1), options), (x) => x.toFixed(4)); // => ['0.2500', '0.5012']
 */
export function saturate(channels: Samples, options: SaturateOptions): NewSamples;
export function saturate(channels: readonly Samples[], options: SaturateOptions): NewSamples[];
export function saturate(channels: Channels, options: SaturateOptions): NewSamples | NewSamples[];
export function saturate(channels: Channels, options: SaturateOptions): NewSamples | NewSamples[] {
  checkObject('saturate', 'options', options);
  checkSampleRate('saturate', options.sampleRateHz);
  assertSettings('saturate', 'saturation', options, options.sampleRateHz);
  const input = finiteChannels('saturate', channels);
  return shapedAs(
    channels,
    runWhole(createSaturationCore(options, options.sampleRateHz, input.length), input),
  );
}

/**
 * `saturate` for audio that arrives in blocks: the same bits, whatever the lengths of the blocks, later by
 * `latencySamples` (0 without oversampling; 50 at 48 kHz and 4 times).
 *
 * @param options Curve, drive, bias, oversampling, make-up, wet, sample rate and number of channels.
 * @throws TypeError or RangeError for settings outside their ranges.
 * @see `saturate`.
 * @example
 * import { createSaturation } from 'lenition/forecast';
 * const options = { curve: 'tanh', driveDb: 6, sampleRateHz: 48000 } as const;
 * createSaturation({ ...options, oversampling: 1 }).latencySamples; // => 0
 */
export function createSaturation(options: SaturateOptions & StreamOptions): StageProcessor {
  const channelCount = checkStream('createSaturation', options);
  assertSettings('createSaturation', 'saturation', options, options.sampleRateHz);
  return asProcessor(createSaturationCore(options, options.sampleRateHz, channelCount), channelCount);
}

import { checkObject, checkSampleRate } from '../signal/check.js';
import type { Channels, Doubles, NewSamples, Samples } from '../signal/samples.js';
import type { CompressorSettings } from './chain.js';
import { assertSettings } from './chain-rules.js';
import { createCompressorCore } from './compressor-core.js';
import {
  asProcessor,
  checkStream,
  finiteChannels,
  runWhole,
  type StageProcessor,
  type StreamOptions,
  shapedAs,
} from './stage-processor.js';

/** A compressor's settings and the rate that it runs at. */
export interface CompressOptions extends CompressorSettings {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

/**
 * Compresses a clip: feed-forward, no look-ahead, no latency, one gain for all channels.
 *
 * The detector takes each channel through the sidechain filters, makes its magnitude (peak) or the root of its square
 * averaged by a one-pole (rms), and goes on with the greatest of the channels. Then level in dB → static curve
 * (compressionGainAt) → smoothing, or smoothing → level in dB → curve. Smoothing of the gain: y₁ = max(c, αR·y₁ +
 * (1 − αR)·c), y = αA·y + (1 − αA)·y₁ on the wanted reduction c (smooth decoupled detector, so coming back takes
 * about attack + release). Smoothing of the level: αA where the amplitude rises, αR where it falls (branching).
 * Output = input · (1 − wet + wet · 10^((gain + makeUpDb)/20)).
 *
 * @param channels One channel or several of equal length; not changed. Empty gives empty, silence silence.
 * @param options Settings and sample rate. Starts from rest: no reduction.
 * @returns New arrays in the shape of the input. Nothing is limited: make-up may take it above full scale.
 * @throws TypeError or RangeError for settings outside their ranges, NaN or Infinity in samples (with the index).
 * @see Giannoulis, Massberg and Reiss, "Digital Dynamic Range Compressor Design — A Tutorial and Analysis", Journal of
 * the Audio Engineering Society 60(6), 2012.
 * @example
 * import { compress } from 'lenition/forecast';
 * const settings = { thresholdDb: -20, ratio: 4, attackSeconds: 0, releaseSeconds: 0.1, sampleRateHz: 48000 };
 * compress(Float32Array.of(1), settings)[0]?.toFixed(4); // => '0.1778'
 */
export function compress(channels: Samples, options: CompressOptions): NewSamples;
export function compress(channels: readonly Samples[], options: CompressOptions): NewSamples[];
export function compress(channels: Channels, options: CompressOptions): NewSamples | NewSamples[];
export function compress(channels: Channels, options: CompressOptions): NewSamples | NewSamples[] {
  const input = checkedInput('compress', channels, options);
  return shapedAs(
    channels,
    runWhole(createCompressorCore(options, options.sampleRateHz, input.length), input),
  );
}

/**
 * The gain by which a compressor turns down each sample of a clip, in dB, 0 or less; make-up and wet are not in it.
 *
 * @param channels As in `compress`.
 * @param options As in `compress`.
 * @returns One gain for each sample, the same for all channels.
 * @throws As `compress`.
 * @see `compress`.
 * @example
 * import { compressionGain } from 'lenition/forecast';
 * const settings = { thresholdDb: -20, ratio: 4, attackSeconds: 0, releaseSeconds: 0.1, sampleRateHz: 48000 };
 * compressionGain(Float32Array.of(1), settings)[0]?.toFixed(6); // => '-15.000000'
 */
export function compressionGain(channels: Channels, options: CompressOptions): Doubles {
  const input = checkedInput('compressionGain', channels, options);
  const gainDb = new Float64Array((input[0] as Samples).length);
  createCompressorCore(options, options.sampleRateHz, input.length).run(null, input, gainDb);
  return gainDb;
}

/**
 * `compress` for audio that arrives in blocks: the same bits, whatever the lengths of the blocks. Latency 0.
 *
 * @param options Settings, sample rate and number of channels.
 * @throws TypeError or RangeError for settings outside their ranges.
 * @see `compress`.
 * @example
 * import { createCompressor } from 'lenition/forecast';
 * const settings = { thresholdDb: -20, ratio: 4, attackSeconds: 0, releaseSeconds: 0.1 };
 * const compressor = createCompressor({ ...settings, sampleRateHz: 48000 });
 * const block = Float32Array.of(0.05, 0.1);
 * compressor.pushInto(block, block);
 * Array.from(block, (x) => x.toFixed(2)); // => ['0.05', '0.10']
 */
export function createCompressor(options: CompressOptions & StreamOptions): StageProcessor {
  const channelCount = checkStream('createCompressor', options);
  assertSettings('createCompressor', 'compressor', options, options.sampleRateHz);
  return asProcessor(createCompressorCore(options, options.sampleRateHz, channelCount), channelCount);
}

function checkedInput(
  functionName: string,
  channels: Channels,
  options: CompressOptions,
): readonly Samples[] {
  checkObject(functionName, 'options', options);
  checkSampleRate(functionName, options.sampleRateHz);
  assertSettings(functionName, 'compressor', options, options.sampleRateHz);
  return finiteChannels(functionName, channels);
}

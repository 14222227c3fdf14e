import { createBiquadState, filterBlockInto } from '../signal/biquad-filter.js';
import { checkObject, checkSampleRate } from '../signal/check.js';
import type { Channels, Doubles, NewSamples, Samples } from '../signal/samples.js';
import type { EqualiserSettings } from './chain.js';
import { assertSettings } from './chain-rules.js';
import { filterSections } from './filter-sections.js';
import {
  asProcessor,
  checkStream,
  finiteChannels,
  runWhole,
  type StageCore,
  type StageProcessor,
  type StreamOptions,
  shapedAs,
} from './stage-processor.js';

/** An equaliser's settings and the rate that it runs at. */
export interface EqualiseOptions extends EqualiserSettings {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
}

/**
 * Equalises a clip through filters of the Audio EQ Cookbook in a row: output = (1 − wet)·input + wet·filtered.
 * From rest; as long as the input, so what would ring on after its end is left out.
 *
 * @param channels One channel or several of equal length, each filtered alike; not changed. Empty gives empty.
 * @param options Filters, wet and sample rate. No filters pass the input as it is.
 * @returns New arrays in the shape of the input.
 * @throws TypeError or RangeError for settings outside their ranges (a frequency must lie under half the sample rate),
 * NaN or Infinity in samples (with the index).
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { equalise } from 'lenition/forecast';
 * const options = { filters: [{ kind: 'lowShelf', frequencyHz: 200, gainDb: 0 }], sampleRateHz: 48000 } as const;
 * Array.from(equalise(Float32Array.of(0.5, -0.25), options)); // => [0.5, -0.25]
 */
export function equalise(channels: Samples, options: EqualiseOptions): NewSamples;
export function equalise(channels: readonly Samples[], options: EqualiseOptions): NewSamples[];
export function equalise(channels: Channels, options: EqualiseOptions): NewSamples | NewSamples[];
export function equalise(channels: Channels, options: EqualiseOptions): NewSamples | NewSamples[] {
  checkObject('equalise', 'options', options);
  checkSampleRate('equalise', options.sampleRateHz);
  assertSettings('equalise', 'equaliser', options, options.sampleRateHz);
  const input = finiteChannels('equalise', channels);
  return shapedAs(
    channels,
    runWhole(createEqualiserCore(options, options.sampleRateHz, input.length), input),
  );
}

/**
 * `equalise` for audio that arrives in blocks: the same bits, whatever the lengths of the blocks. Latency 0.
 *
 * @param options Filters, wet, sample rate and number of channels.
 * @throws TypeError or RangeError for settings outside their ranges.
 * @see `equalise`.
 * @example
 * import { createEqualiser } from 'lenition/forecast';
 * createEqualiser({ filters: [], sampleRateHz: 48000 }).latencySamples; // => 0
 */
export function createEqualiser(options: EqualiseOptions & StreamOptions): StageProcessor {
  const channelCount = checkStream('createEqualiser', options);
  assertSettings('createEqualiser', 'equaliser', options, options.sampleRateHz);
  return asProcessor(createEqualiserCore(options, options.sampleRateHz, channelCount), channelCount);
}

/** Settings are taken as checked. */
export function createEqualiserCore(
  settings: EqualiserSettings,
  sampleRateHz: number,
  channelCount: number,
): StageCore {
  const { filters, wet = 1 } = settings;
  const sections = filterSections(filters, { sampleRateHz });
  const states = Array.from({ length: channelCount }, () => createBiquadState(sections.length || 1));
  // Filtering in place would lose the dry sound.
  let filtered = new Float32Array(0);
  function runChannel(out: Samples, input: Samples, state: Doubles): void {
    if (sections.length === 0) {
      if (out !== input) out.set(input);
      return;
    }
    if (wet === 1) {
      filterBlockInto(out, input, sections, state);
      return;
    }
    if (filtered.length < input.length) filtered = new Float32Array(input.length);
    const block = filtered.subarray(0, input.length);
    filterBlockInto(block, input, sections, state);
    for (let i = 0; i < input.length; i++)
      out[i] = (1 - wet) * (input[i] as number) + wet * (block[i] as number);
  }
  return {
    latencySamples: 0,
    run(out, input): void {
      for (let c = 0; c < input.length; c++)
        runChannel(out[c] as Samples, input[c] as Samples, states[c] as Doubles);
    },
  };
}

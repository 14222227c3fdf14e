import {
  channelList,
  checkFinite,
  checkInteger,
  checkObject,
  checkSampleRate,
  rangeError,
} from '../signal/check.js';
import type { Channels, NewSamples, Samples } from '../signal/samples.js';

/** A stage, or a chain, for audio that arrives in blocks. */
export interface StageProcessor {
  /** How many samples later a sound leaves than it came; the first that many samples out are silence. */
  readonly latencySamples: number;
  /**
   * Processes the next block into `out`, which may be the block itself, but must not overlap it otherwise. Blocks of
   * any lengths give the same bits. Throws for another number of channels, lengths that differ, NaN or Infinity in the
   * block (with the index); nothing has then changed.
   */
  pushInto(out: Channels, block: Channels): void;
}

/** What every block twin needs to know. */
export interface StreamOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Channels in every block, 1 to 64; 1 where left out. */
  readonly channelCount?: number;
}

/** The work of a stage, unchecked: `out` and `input` have equal shapes; an output channel may be its input channel. */
export interface StageCore {
  readonly latencySamples: number;
  run(out: readonly Samples[], input: readonly Samples[]): void;
}

/** Checks rate and channel count; the count. */
export function checkStream(functionName: string, options: StreamOptions): number {
  checkObject(functionName, 'options', options);
  const { sampleRateHz, channelCount = 1 } = options;
  checkSampleRate(functionName, sampleRateHz);
  checkInteger(functionName, 'channelCount', channelCount, 1, 64);
  return channelCount;
}

/** Puts the checks of a block around the work of a stage. */
export function asProcessor(core: StageCore, channelCount: number): StageProcessor {
  return Object.freeze({
    latencySamples: core.latencySamples,
    pushInto(out: Channels, block: Channels): void {
      const input = finiteChannels('pushInto', block);
      const target = channelList('pushInto', out, 'out');
      if (input.length !== channelCount)
        throw rangeError('pushInto', 'block', `must have ${channelCount} channels`, input.length);
      if (target.length !== channelCount)
        throw rangeError('pushInto', 'out', `must have ${channelCount} channels`, target.length);
      const length = (input[0] as Samples).length;
      if ((target[0] as Samples).length !== length)
        throw rangeError('pushInto', 'out', `must be as long as the block (${length})`, target[0]?.length);
      core.run(target, input);
    },
  });
}

/** Runs a stage over a whole clip; its latency is taken out, so that output and input line up. */
export function runWhole(core: StageCore, input: readonly Samples[]): NewSamples[] {
  const latency = core.latencySamples;
  const length = (input[0] as Samples).length;
  const out = input.map(() => new Float32Array(length + latency));
  core.run(
    out.map((channel) => channel.subarray(0, length)),
    input,
  );
  if (latency === 0) return out;
  const tail = out.map((channel) => channel.subarray(length));
  core.run(tail, tail);
  return out.map((channel) => channel.slice(latency));
}

/** The channels as a list, every sample checked. */
export function finiteChannels(functionName: string, channels: Channels): readonly Samples[] {
  const list = channelList(functionName, channels);
  for (let c = 0; c < list.length; c++)
    checkFinite(functionName, list.length === 1 ? 'samples' : `channels[${c}]`, list[c] as Samples);
  return list;
}

/** The shape that came in: one array for one array. */
export function shapedAs(channels: Channels, out: NewSamples[]): NewSamples | NewSamples[] {
  return channels instanceof Float32Array ? (out[0] as NewSamples) : out;
}

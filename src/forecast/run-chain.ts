import { checkSampleRate, rangeError } from '../signal/check.js';
import { decibelsFromAmplitude } from '../signal/decibels.js';
import type { Channels, Doubles, Samples } from '../signal/samples.js';
import type { Chain, Stage } from './chain.js';
import { assertChain } from './chain-rules.js';
import { createCompressorCore } from './compressor-core.js';
import { createEqualiserCore } from './equalise.js';
import { createSaturationCore } from './saturation-core.js';
import {
  asProcessor,
  checkStream,
  finiteChannels,
  runWhole,
  type StageCore,
  type StageProcessor,
  type StreamOptions,
} from './stage-processor.js';

/** What left one stage of a chain. */
export interface StageOutput {
  /** Position in the chain, from 0. */
  readonly index: number;
  readonly kind: Stage['kind'];
  /** The stage's own name; its kind where it has none. */
  readonly name: string;
  /** RMS over the clip, channel powers averaged, in dBFS; −Infinity for silence. */
  readonly rmsDbfs: number;
  /** Greatest sample of any channel, in dBFS. Above 0 a file of whole numbers would clip. */
  readonly peakDbfs: number;
  /** Strongest gain reduction of a compressor in dB, 0 or less; null for other stages. */
  readonly lowestGainDb: number | null;
  /** A compressor's gain for each sample in dB, without make-up; null for other stages, or where not asked for. */
  readonly gainDb: Doubles | null;
  /** The sound behind this stage, one array for each channel; null where not asked for. */
  readonly channels: readonly Samples[] | null;
}

/** A clip as it leaves a chain. */
export interface ChainOutput {
  /** One array for each channel, as long as the input and lined up with it. */
  readonly channels: readonly Samples[];
  /** One entry for each stage, in order. */
  readonly stages: readonly StageOutput[];
}

/** Settings of runChain. */
export interface RunChainOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** True: keep the sound behind every stage and the gain of every compressor. Default false. */
  readonly keepStages?: boolean;
}

/**
 * Runs a clip through a chain: each stage over the whole of what the one before it gave, in 32-bit floats, exactly as
 * `compress`, `equalise` and `saturate` called one after the other.
 *
 * @param channels One channel or several of equal length; not changed. Empty gives empty.
 * @param chain What the mix will do; no stages give a copy.
 * @param options Sample rate and what to keep.
 * @returns The sound, lined up with the input, and what left each stage. Values above full scale are kept: look at
 * `peakDbfs` before they are written to a file.
 * @throws TypeError or RangeError for a chain that breaks a rule (the message names stage and field), NaN or Infinity
 * in samples (with the index), and RangeError where a stage gives a value that 32 bits cannot hold (the message names the stage
 * and the sample).
 * @see `compress`, `equalise`, `saturate`.
 * @example
 * import { runChain } from 'lenition/forecast';
 * const chain = { stages: [{ kind: 'saturation', curve: 'clip', driveDb: 20, oversampling: 1 }] } as const;
 * const { channels, stages } = runChain(Float32Array.of(1, 0.01), chain, { sampleRateHz: 48000 });
 * Array.from(channels[0] ?? [], (x) => x.toFixed(2)); // => ['0.10', '0.01']
 * stages[0]?.peakDbfs.toFixed(2); // => '-20.00'
 */
export function runChain(channels: Channels, chain: Chain, options: RunChainOptions): ChainOutput {
  checkSampleRate('runChain', options?.sampleRateHz);
  assertChain('runChain', chain, options.sampleRateHz);
  return runCheckedChain('runChain', finiteChannels('runChain', channels), chain, options);
}

/** runChain without its checks of chain and input. */
export function runCheckedChain(
  functionName: string,
  input: readonly Samples[],
  chain: Chain,
  options: RunChainOptions,
): ChainOutput {
  const { sampleRateHz, keepStages = false } = options;
  let sound: readonly Samples[] = input;
  const stages = chain.stages.map((stage, index) => {
    const gainDb = stage.kind === 'compressor' ? new Float64Array((input[0] as Samples).length) : null;
    const core = coreOf(stage, sampleRateHz, input.length, gainDb);
    sound = runWhole(core, sound);
    return outputOf(functionName, stage, index, sound, gainDb, keepStages);
  });
  if (stages.length === 0) sound = input.map((channel) => channel.slice());
  return Object.freeze({ channels: Object.freeze(sound), stages: Object.freeze(stages) });
}

/**
 * `runChain` for audio that arrives in blocks: the same bits, later by `latencySamples` (the stages' added up).
 * A block in which a stage gives NaN or Infinity is refused with the stage's name; make a new processor after that.
 *
 * @param chain What the mix will do.
 * @param options Sample rate and number of channels.
 * @throws TypeError or RangeError for a chain that breaks a rule.
 * @see `runChain`.
 * @example
 * import { createChainProcessor } from 'lenition/forecast';
 * createChainProcessor({ stages: [] }, { sampleRateHz: 48000 }).latencySamples; // => 0
 */
export function createChainProcessor(chain: Chain, options: StreamOptions): StageProcessor {
  const channelCount = checkStream('createChainProcessor', options);
  assertChain('createChainProcessor', chain, options.sampleRateHz);
  const { stages } = chain;
  const cores = stages.map((stage) => coreOf(stage, options.sampleRateHz, channelCount, null));
  return asProcessor(
    {
      latencySamples: cores.reduce((sum, core) => sum + core.latencySamples, 0),
      run(out, input): void {
        for (let c = 0; c < input.length; c++)
          if (out[c] !== input[c]) (out[c] as Samples).set(input[c] as Samples);
        cores.forEach((core, index) => {
          core.run(out, out);
          for (const channel of out) checkStageOutput('pushInto', stages[index] as Stage, index, channel);
        });
      },
    },
    channelCount,
  );
}

function coreOf(stage: Stage, sampleRateHz: number, channelCount: number, gainDb: Doubles | null): StageCore {
  if (stage.kind === 'equaliser') return createEqualiserCore(stage, sampleRateHz, channelCount);
  if (stage.kind === 'saturation') return createSaturationCore(stage, sampleRateHz, channelCount);
  const core = createCompressorCore(stage, sampleRateHz, channelCount);
  if (gainDb === null) return core;
  return { latencySamples: 0, run: (out, input) => core.run(out, input, gainDb) };
}

function outputOf(
  functionName: string,
  stage: Stage,
  index: number,
  channels: readonly Samples[],
  gainDb: Doubles | null,
  keep: boolean,
): StageOutput {
  let greatest = 0;
  let power = 0;
  for (const channel of channels) {
    checkStageOutput(functionName, stage, index, channel);
    for (let i = 0; i < channel.length; i++) {
      const x = Math.abs(channel[i] as number);
      if (x > greatest) greatest = x;
      power += x * x;
    }
  }
  const count = channels.length * (channels[0] as Samples).length;
  let lowest = 0;
  if (gainDb !== null)
    for (let i = 0; i < gainDb.length; i++) if ((gainDb[i] as number) < lowest) lowest = gainDb[i] as number;
  return Object.freeze({
    index,
    kind: stage.kind,
    name: stage.name ?? stage.kind,
    rmsDbfs: decibelsFromAmplitude(count === 0 ? 0 : Math.sqrt(power / count)),
    peakDbfs: decibelsFromAmplitude(greatest),
    lowestGainDb: gainDb === null ? null : lowest,
    gainDb: keep ? gainDb : null,
    channels: keep ? channels : null,
  });
}

/** A stage in the chain must not hand on what the next one would refuse without saying whose fault it is. */
function checkStageOutput(functionName: string, stage: Stage, index: number, channel: Samples): void {
  for (let i = 0; i < channel.length; i++) {
    const x = channel[i] as number;
    // x − x is 0 for every finite x and NaN otherwise.
    if (x - x === 0) continue;
    const name = stage.name === undefined ? '' : ` ${JSON.stringify(stage.name)}`;
    throw rangeError(
      functionName,
      `sample ${i} behind chain.stages[${index}] (${stage.kind}${name})`,
      'must be finite: the stage overflowed',
      x,
    );
  }
}

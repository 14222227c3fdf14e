import { checkObject, checkSampleRate } from '../signal/check.js';
import { decibelsFromAmplitude } from '../signal/decibels.js';
import type { Channels, Doubles, NewSamples, Samples } from '../signal/samples.js';
import type { Chain, Stage } from './chain.js';
import { checkStageOutput, coreOf, latencyOf } from './chain-cores.js';
import { assertChain } from './chain-rules.js';
import type { CompressorCore } from './compressor-core.js';
import { finiteChannels } from './stage-processor.js';

/** What left one stage of a chain. */
export interface StageOutput {
  /** Position in the chain, from 0. */
  readonly index: number;
  /** Which kind of stage it is. */
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
  readonly channels: readonly NewSamples[] | null;
}

/** A clip as it leaves a chain. */
export interface ChainOutput {
  /** One array for each channel, as long as the input and lined up with it. */
  readonly channels: readonly NewSamples[];
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
 * Runs a clip through a chain, stage after stage in 32-bit floats, as `compress`, `equalise` and `saturate` do one after
 * the other. Bit for bit it is what `createChainProcessor` gives with its latency taken out at the end: a stage behind
 * an oversampled saturation therefore also hears what rings before and
 * behind the clip, for as long as the latency.
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
  checkObject('runChain', 'options', options);
  checkSampleRate('runChain', options.sampleRateHz);
  assertChain('runChain', chain, options.sampleRateHz);
  const { sampleRateHz, keepStages = false } = options;
  const input = finiteChannels('runChain', channels);
  const stages: StageOutput[] = [];
  const sound = passChain('runChain', input, chain, sampleRateHz, (stage, index, heard, gainDb) => {
    stages.push(outputOf(stage, index, heard, gainDb, keepStages));
  });
  return Object.freeze({ channels: Object.freeze(sound), stages: Object.freeze(stages) });
}

/**
 * Hears of each stage: the sound behind it, lined up with the clip and valid only during the call, and the gain of each
 * sample where it is a compressor.
 */
export type VisitStage = (
  stage: Stage,
  index: number,
  channels: readonly Samples[],
  gainDb: Doubles | null,
) => void;

/** The sound behind a chain; chain and input are taken as checked. */
export function passChain(
  functionName: string,
  input: readonly Samples[],
  chain: Chain,
  sampleRateHz: number,
  visit: VisitStage,
): readonly NewSamples[] {
  const length = (input[0] as Samples).length;
  const cores = chain.stages.map((stage) => coreOf(stage, sampleRateHz, input.length));
  // Silence behind the clip pushes out what the stages hold back, as a stream would be flushed.
  const total = latencyOf(cores);
  const sound = input.map((channel) => {
    const padded = new Float32Array(length + total);
    padded.set(channel);
    return padded;
  });
  let late = 0;
  chain.stages.forEach((stage, index) => {
    const core = cores[index] as CompressorCore;
    const gainDb = stage.kind === 'compressor' ? new Float64Array(length + total) : undefined;
    core.run(sound, sound, gainDb);
    const gainOfClip = gainDb?.subarray(late, late + length) ?? null;
    late += core.latencySamples;
    for (const channel of sound) checkStageOutput(functionName, stage, index, channel, late);
    const heard = sound.map((channel) => channel.subarray(late, late + length));
    visit(stage, index, heard, gainOfClip);
  });
  return total === 0 ? sound : sound.map((channel) => channel.slice(total));
}

function outputOf(
  stage: Stage,
  index: number,
  channels: readonly Samples[],
  gainDb: Doubles | null,
  keep: boolean,
): StageOutput {
  let greatest = 0;
  let power = 0;
  for (const channel of channels) {
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
    gainDb: keep && gainDb !== null ? gainDb.slice() : null,
    // The sound is worked on in place: the next stage overwrites it.
    channels: keep ? Object.freeze(channels.map((channel) => channel.slice())) : null,
  });
}

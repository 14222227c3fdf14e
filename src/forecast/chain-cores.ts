import { rangeError } from '../signal/check.js';
import type { Samples } from '../signal/samples.js';
import type { Stage } from './chain.js';
import { type CompressorCore, createCompressorCore } from './compressor-core.js';
import { createEqualiserCore } from './equalise.js';
import { createSaturationCore } from './saturation-core.js';
import type { StageCore } from './stage-processor.js';

/** The work of a stage; only a compressor fills the array of gains that `run` may be handed. */
export function coreOf(stage: Stage, sampleRateHz: number, channelCount: number): StageCore | CompressorCore {
  if (stage.kind === 'compressor') return createCompressorCore(stage, sampleRateHz, channelCount);
  if (stage.kind === 'equaliser') return createEqualiserCore(stage, sampleRateHz, channelCount);
  return createSaturationCore(stage, sampleRateHz, channelCount);
}

/** Latency of stages in a row. */
export function latencyOf(cores: readonly StageCore[]): number {
  return cores.reduce((sum, core) => sum + core.latencySamples, 0);
}

/**
 * Throws where a stage made a value that 32 bits do not hold: the next stage would refuse it without saying whose fault
 * it is. `late` is what to take off an index to find its place in the input.
 */
export function checkStageOutput(
  functionName: string,
  stage: Stage,
  index: number,
  channel: Samples,
  late: number = 0,
): void {
  for (let i = 0; i < channel.length; i++) {
    const x = channel[i] as number;
    // x − x is 0 for every finite x and NaN otherwise.
    if (x - x === 0) continue;
    const name = stage.name === undefined ? '' : ` ${JSON.stringify(stage.name)}`;
    throw rangeError(
      functionName,
      `sample ${Math.max(0, i - late)} behind chain.stages[${index}] (${stage.kind}${name})`,
      'must be finite: the stage overflowed',
      x,
    );
  }
}

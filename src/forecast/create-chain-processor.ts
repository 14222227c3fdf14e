import type { Samples } from '../signal/samples.js';
import type { Chain, Stage } from './chain.js';
import { checkStageOutput, coreOf, latencyOf } from './chain-cores.js';
import { assertChain } from './chain-rules.js';
import { asProcessor, checkStream, type StageProcessor, type StreamOptions } from './stage-processor.js';

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
  const cores = stages.map((stage) => coreOf(stage, options.sampleRateHz, channelCount));
  return asProcessor(
    {
      latencySamples: latencyOf(cores),
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

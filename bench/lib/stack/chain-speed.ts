import type { Chain } from '../../../src/forecast/chain.js';
import { CHAIN_PRESETS } from '../../../src/forecast/presets.js';
import { runChain } from '../../../src/forecast/run-chain.js';
import type { Samples } from '../../../src/signal/samples.js';
import { cpuSeconds } from './cpu-seconds.js';
import { tiled } from './tiled.js';

/** How fast one chain runs. */
export interface ChainSpeed {
  readonly chain: Chain;
  /** Seconds of sound for a second of processor time. */
  readonly timesRealTime: number;
}

/** Runs each preset over `seconds` of a take, three times after a short one to warm up; the best counts. */
export function chainSpeeds(take: Samples, sampleRateHz: number, seconds: number): readonly ChainSpeed[] {
  const samples = tiled(take, Math.round(seconds * sampleRateHz));
  const warm = samples.subarray(0, Math.min(samples.length, 2 * sampleRateHz));
  return CHAIN_PRESETS.map((chain) => {
    runChain(warm, chain, { sampleRateHz });
    // What else the machine does can only add.
    const least = Math.min(
      ...[1, 2, 3].map(() => cpuSeconds(() => runChain(samples, chain, { sampleRateHz })).seconds),
    );
    return { chain, timesRealTime: samples.length / sampleRateHz / least };
  });
}

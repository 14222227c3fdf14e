import { noiseSpan } from '../levels/noise-span.js';
import type { Region } from '../regions/region.js';
import type { Doubles, Samples } from '../signal/samples.js';
import type { Chain, CompressorSettings } from './chain.js';
import { createCompressorCore } from './compressor-core.js';

/**
 * What a compressor does for one noise beside its voice. `lifted`: it rises against the voice, which is turned down more.
 * `drives the detector`: it does not, since it is loud enough where the detector hears to be turned down itself.
 * `held by the voice`: it is not, but the voice's reduction has not let go of it. `untouched`: neither is turned down.
 */
export type CompressorEffect = 'lifted' | 'drives the detector' | 'held by the voice' | 'untouched';

/** Every effect, in the order of tables. */
export const COMPRESSOR_EFFECTS: readonly CompressorEffect[] = Object.freeze([
  'lifted',
  'drives the detector',
  'held by the voice',
  'untouched',
] as const);

/** From this difference on, in dB, two sounds count as treated differently: less than is heard or a fader shows. */
const LEAST_DB = 0.1;

/** Tells, for each region, what a compressor did. */
export interface EffectJudge {
  /** Hears what enters stage `index`. */
  enter(index: number, channels: readonly Samples[]): void;
  /** The effect on region `r` of the stage that was entered last; `gainDb` is its gain over the clip. */
  effect(r: number, riseDb: number, gainDb: Doubles): CompressorEffect;
}

export function createEffectJudge(
  regions: readonly Region[],
  chain: Chain,
  sampleRateHz: number,
): EffectJudge {
  let alone: readonly number[] = [];
  return {
    enter(index, channels): void {
      const stage = chain.stages[index];
      if (stage?.kind === 'compressor')
        alone = regions.map((region) => lowestGainAlone(stage, region, channels, sampleRateHz));
    },
    effect(r, riseDb, gainDb): CompressorEffect {
      if (riseDb >= LEAST_DB) return 'lifted';
      if ((alone[r] as number) < -LEAST_DB) return 'drives the detector';
      const { start, end } = noiseSpan(regions[r] as Region);
      return lowest(gainDb, start, end) < -LEAST_DB ? 'held by the voice' : 'untouched';
    },
  };
}

/** The strongest reduction that the noise would cause if the compressor had heard nothing before it. */
function lowestGainAlone(
  settings: CompressorSettings,
  region: Region,
  channels: readonly Samples[],
  sampleRateHz: number,
): number {
  const { start, end } = noiseSpan(region);
  const noise = channels.map((channel) => channel.subarray(start, end));
  const gainDb = new Float64Array(end - start);
  createCompressorCore(settings, sampleRateHz, channels.length).run(null, noise, gainDb);
  return lowest(gainDb, 0, gainDb.length);
}

function lowest(gainDb: Doubles, start: number, end: number): number {
  let least = 0;
  for (let i = start; i < end; i++) least = Math.min(least, gainDb[i] as number);
  return least;
}

import { basename } from 'node:path';
import type { Chain } from '../../src/forecast/chain.js';
import { runChain } from '../../src/forecast/run-chain.js';
import { renderGain } from '../../src/gain/render-gain.js';
import type { RegionList } from '../../src/regions/region.js';
import { peakDbfs } from '../../src/signal/meters.js';
import type { Samples } from '../../src/signal/samples.js';
import { encodeWave } from './wave-file.js';

/** Files of a take as heard through the chain, and what to be careful about before they are played. */
export interface InChainFiles {
  readonly files: readonly (readonly [path: string, pieces: Iterable<Uint8Array>])[];
  readonly cautions: readonly string[];
}

/** A take as recorded and as tamed, both through the chain, as WAV files of floats: those keep what goes past full scale. */
export function inChainFiles(
  paths: readonly [recorded: string, tamed: string] | null,
  channels: readonly Samples[],
  list: RegionList,
  chain: Chain | undefined,
): InChainFiles {
  if (paths === null || chain === undefined) return { files: [], cautions: [] };
  const { sampleRateHz } = list;
  const heard = [channels, renderGain([...channels], list)].map((clip, i) => {
    const out = runChain([...clip], chain, { sampleRateHz }).channels;
    return {
      path: paths[i] as string,
      pieces: [encodeWave(out, { sampleRateHz, depth: '32f' })],
      overDb: Math.max(...out.map(peakDbfs)),
    };
  });
  return {
    files: heard.map(({ path, pieces }) => [path, pieces] as const),
    cautions: heard.filter(({ overDb }) => overDb > 0).map(({ path, overDb }) => loudLine(path, overDb)),
  };
}

function loudLine(path: string, overDb: number): string {
  return `${basename(path)} peaks ${overDb.toFixed(1)} dB past full scale, since a chain may turn up: turn it down before you play it, or it clips`;
}

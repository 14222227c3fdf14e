import type { Chain } from '../../../src/forecast/chain.js';
import { preemptiveCut } from '../../../src/forecast/preemptive-cut.js';
import { renderGain } from '../../../src/gain/render-gain.js';
import { measureLevels } from '../../../src/levels/measure-levels.js';
import type { Samples } from '../../../src/signal/samples.js';
import type { RegionError } from './forecast-errors.js';
import { createSibilanceComparison } from './sibilance-comparison.js';
import type { VoiceClip } from './voice-clip.js';

/** What became of the sibilants of a clip. */
export interface CutErrors {
  /** Those that were cut to their target. */
  readonly reached: readonly RegionError[];
  /** How many lie under their target without a cut. */
  readonly under: number;
  /** How many the decision itself lists as not reached, by cause. */
  readonly unreached: Readonly<Record<string, number>>;
}

/** Sibilance that is aimed at, below the median sibilant of the clip: some lie under it already, most must be cut. */
const BELOW_MEDIAN_DB = 2;

/** Cuts ahead of a chain, renders, has `process` run the chain, and measures where each region then sits. */
export function cutErrors(
  { name, samples, list }: VoiceClip,
  chain: Chain,
  process: (samples: Samples, chain: Chain, sampleRateHz: number) => Samples,
): CutErrors {
  const targetDb = medianSibilance(samples, list) - BELOW_MEDIAN_DB;
  const cut = preemptiveCut(samples, list, chain, { targetDb });
  const heard = process(renderGain(samples, cut.list), chain, list.sampleRateHz);
  const after = createSibilanceComparison(samples, list)(heard);
  const out = new Set(cut.unreached.map(({ id }) => id));
  const unreached: Record<string, number> = {};
  for (const { cause } of cut.unreached) unreached[cause] = (unreached[cause] ?? 0) + 1;
  const solved = cut.list.regions.filter(({ id, kind }) => kind === 'sibilant' && !out.has(id));
  const reached = solved.flatMap(({ id, kind, gainDb, startSample }): RegionError[] => {
    const at = after.get(id);
    if (gainDb === 0 || at === undefined) return [];
    return [
      {
        clip: name,
        chain: chain.name ?? '',
        id,
        kind,
        startSeconds: startSample / list.sampleRateHz,
        expectedDb: targetDb,
        measuredDb: at.sameDb,
        anewDb: at.anewDb,
      },
    ];
  });
  return { reached, under: solved.length - reached.length, unreached };
}

function medianSibilance(samples: Samples, list: VoiceClip['list']): number {
  const known = [...measureLevels(samples, list, { kinds: ['sibilant'] }).byId.values()]
    .flatMap(({ sibilanceDb }) => sibilanceDb ?? [])
    .sort((a, b) => a - b);
  return known[known.length >> 1] ?? 0;
}

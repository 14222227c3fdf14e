import { findBreathsAndNoise } from '../../src/detection/find-breaths-and-noise.js';
import type { Chain } from '../../src/forecast/chain.js';
import { preemptiveCut } from '../../src/forecast/preemptive-cut.js';
import { evenedCut } from '../../src/gain/evened-cut.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { levelledCut } from '../../src/gain/levelled-cut.js';
import { lowerNoise } from '../../src/gain/lower-noise.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { softenBreaths } from '../../src/gain/soften-breaths.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { suggestBand } from '../../src/levels/suggest-band.js';
import type { RegionKind, RegionList } from '../../src/regions/region.js';
import { setBand } from '../../src/regions/set-band.js';
import type { Samples } from '../../src/signal/samples.js';
import type { TameOptions } from './tame-options.js';

/** Kinds that only findBreathsAndNoise finds. */
const PAUSE_KINDS: readonly RegionKind[] = ['click', 'noise'];

/** Decides edges and gains of what was found in a take, as the command line asks for. */
export function decideGains(
  found: RegionList,
  channels: readonly Samples[],
  options: TameOptions,
  chain?: Chain,
): RegionList {
  const isSoftWanted =
    options.breathsDb !== undefined || options.kinds.some((kind) => PAUSE_KINDS.includes(kind));
  const placed = placeEdges(isSoftWanted ? findBreathsAndNoise(found, channels) : found, channels);
  const cut = decideCuts(placed, channels, options, chain);
  const soft = isSoftWanted ? decideSoft(cut, channels, options) : cut;
  return options.band ? limitToBands(soft, channels) : soft;
}

function decideCuts(
  list: RegionList,
  channels: readonly Samples[],
  options: TameOptions,
  chain: Chain | undefined,
): RegionList {
  const kinds = options.kinds.filter((kind) => !PAUSE_KINDS.includes(kind));
  if (kinds.length === 0) return list;
  if (options.decision === 'fixed') return fixedCut(list, { gainDb: options.gainDb, kinds });
  const target = options.targetDb === undefined ? {} : { targetDb: options.targetDb };
  const limit = options.maxCutDb === undefined ? {} : { maxCutDb: options.maxCutDb };
  if (options.decision === 'ahead' && chain !== undefined)
    return preemptiveCut(channels, list, chain, { kinds, ...limit, ...target }).list;
  const levels = measureLevels(channels, list);
  if (options.decision === 'even') return evenedCut(list, levels, { kinds, ...limit });
  return levelledCut(list, levels, { kinds, ...limit, ...target });
}

/** Breaths by their own cut, with long fades and the room kept; noises and clicks by the cut of the command line. */
function decideSoft(list: RegionList, channels: readonly Samples[], options: TameOptions): RegionList {
  const { breathsDb, kinds, gainDb } = options;
  const breaths = breathsDb === undefined ? list : softenBreaths(list, channels, { cutDb: breathsDb });
  const noises = kinds.filter((kind) => PAUSE_KINDS.includes(kind));
  return noises.length > 0 ? lowerNoise(breaths, { kinds: noises, cutDb: -gainDb }) : breaths;
}

/** Gives each region with a cut the band that holds its own noise, so that the rest of the spectrum stays. */
function limitToBands(list: RegionList, channels: readonly Samples[]): RegionList {
  let limited = list;
  for (const { id, gainDb, band } of list.regions) {
    if (gainDb === 0 || band !== undefined) continue;
    const suggested = suggestBand(channels, limited, id);
    if (suggested !== null) limited = setBand(limited, [id], suggested);
  }
  return limited;
}

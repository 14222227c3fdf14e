import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { placeEdges } from '../../../src/gain/place-edges.js';
import { renderGain } from '../../../src/gain/render-gain.js';
import { measureLevels } from '../../../src/levels/measure-levels.js';
import type { LevelTable } from '../../../src/levels/region-level.js';
import type { Samples } from '../../../src/signal/samples.js';
import type { EventGroup } from '../../../src/takes/event-group.js';
import { fadeRaggedEnds } from '../../../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../../../src/takes/group-events.js';
import { holdSum } from '../../../src/takes/hold-sum.js';
import { measureGroups } from '../../../src/takes/measure-groups.js';
import { sameFeel } from '../../../src/takes/same-feel.js';
import type { Take, TakeId } from '../../../src/takes/take.js';
import { cpuSeconds } from './cpu-seconds.js';
import { tiled } from './tiled.js';

/** Steps of the work on a song, in order. */
export type SongStep = 'find' | 'edges' | 'levels' | 'group' | 'decide' | 'render';

/** What the work on a song took. */
export interface SongSpeed {
  /** Processor seconds of each step. */
  readonly seconds: Readonly<Record<SongStep, number>>;
  readonly totalSeconds: number;
  readonly regions: number;
  readonly groups: number;
}

/**
 * A song of `takeCount` takes made of a few: each repeated to `seconds`, placed up to 40 ms apart, its fader its own. All decisions
 * that go together are made: same feel for every take, sums held over the lead, ragged ends faded.
 */
export function songSpeed(
  clips: readonly Samples[],
  sampleRateHz: number,
  seconds: number,
  takeCount: number,
): SongSpeed {
  // Takes of one voice share their samples, which nothing changes: they cost as much, and need less memory.
  const songs = clips.map((clip) => tiled(clip, Math.round(seconds * sampleRateHz)));
  const spent: Record<SongStep, number> = { find: 0, edges: 0, levels: 0, group: 0, decide: 0, render: 0 };
  const timed = <T>(step: SongStep, work: () => T): T => {
    const { value, seconds: own } = cpuSeconds(work);
    spent[step] += own;
    return value;
  };
  const levels = new Map<TakeId, LevelTable>();
  const takes = Array.from({ length: takeCount }, (_, t): Take => {
    const channels = songs[t % songs.length] as Samples;
    const found = timed('find', () => detectConsonants(channels, { sampleRateHz }));
    const list = timed('edges', () => placeEdges(found, channels));
    levels.set(
      t,
      timed('levels', () => measureLevels(channels, list)),
    );
    const offsetSamples = Math.round(0.04 * sampleRateHz * ((t * 0.37) % 1));
    return { id: t, channels, list, offsetSamples, gainDb: 0 - (t % 5) };
  });
  const groups = timed('group', () => groupEvents(takes));
  timed('group', () => measureGroups(takes, groups));
  const decided = timed('decide', () => decide(takes, groups, levels));
  timed('render', () => {
    for (const { channels, list } of decided) renderGain(channels, list);
  });
  return {
    seconds: spent,
    totalSeconds: Object.values(spent).reduce((sum, own) => sum + own, 0),
    regions: takes.reduce((sum, { list }) => sum + list.regions.length, 0),
    groups: groups.length,
  };
}

function decide(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  levels: ReadonlyMap<TakeId, LevelTable>,
): readonly Take[] {
  return fadeRaggedEnds(holdSum(sameFeel(takes, levels), groups, { levels }), groups);
}

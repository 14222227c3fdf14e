import type { Samples } from '../../../src/signal/samples.js';
import { cpuCost } from '../speed/cpu-cost.js';
import { STAGES, type Stage } from './detector-stages.js';

/** Processor time of each stage with all before it, in microseconds, of one round. */
export type StageCosts = Readonly<Record<Stage, number>>;

const NAMES = Object.keys(STAGES) as Stage[];

/** Rounds before those that count: in them the engine compiles what it then runs. */
const ROUNDS_BEFORE = 3;

/** Runs the stages in turns, first to last and back, `rounds` times: what slows the machine for a while falls on all alike. */
export function stageCosts(
  clips: readonly Samples[],
  sampleRateHz: number,
  rounds: number,
): readonly StageCosts[] {
  const costs = Object.fromEntries(
    NAMES.map((name) => [name, cpuCost(() => clips.map((clip) => STAGES[name](clip, sampleRateHz)))]),
  ) as Record<Stage, () => number>;
  const round = (): StageCosts => {
    const sums = Object.fromEntries(NAMES.map((name) => [name, 0])) as Record<Stage, number>;
    for (const name of [...NAMES, ...[...NAMES].reverse()]) sums[name] += costs[name]() / 2;
    return sums;
  };
  for (let n = 0; n < ROUNDS_BEFORE; n++) round();
  return Array.from({ length: rounds }, round);
}

/** What each part adds, in percent of the features: the median over rounds. */
export interface CostShares {
  readonly references: number;
  readonly network: number;
  /** Smoothing, events and edges. */
  readonly events: number;
  /** Checking the samples and making a list. */
  readonly calls: number;
  /** Network and events. */
  readonly classifier: number;
  /** The same, of the time of the features and references together. */
  readonly classifierOfInputs: number;
}

/** What the parts cost in percent of the features. */
export function costShares(rounds: readonly StageCosts[]): CostShares {
  const median = (pick: (costs: StageCosts) => number): number => {
    const sorted = rounds.map(pick).sort((a, b) => a - b);
    const middle = sorted.length >> 1;
    return sorted.length % 2 === 1
      ? (sorted[middle] as number)
      : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
  };
  return {
    references: median((c) => (100 * (c.references - c.features)) / c.features),
    network: median((c) => (100 * (c.network - c.references)) / c.features),
    events: median((c) => (100 * (c.events - c.network)) / c.features),
    calls: median((c) => (100 * (c.detector - c.events)) / c.features),
    classifier: median((c) => (100 * (c.events - c.references)) / c.features),
    classifierOfInputs: median((c) => (100 * (c.events - c.references)) / c.references),
  };
}

import { quantile } from '../../../src/evaluation/quantile.js';
import { markdownTable } from '../table.js';
import type { Cost } from './paired-rounds.js';

/** Work of growing size, and the cost of each size. */
export interface Growth {
  readonly name: string;
  /** What grows, as a heading: 'seconds', 'Hz', 'regions'. */
  readonly unit: string;
  readonly points: readonly GrowthPoint[];
}

/** Cost in processor microseconds of work of one size. */
export interface GrowthPoint {
  readonly size: number;
  readonly cost: number;
}

/**
 * Steeper than this is not linear. Work that goes with n·log n rises by 1.15 between 50 and 50,000 regions, and by 1.07 between 10 s
 * and 10 min; caches that run full and other work on the machine add to it (0.05 to 0.1 seen). Work that goes with n² has 2.
 */
export const STEEPEST_LINEAR = 1.25;

const WARM_ROUNDS = 2;

/** Costs at each size, all sizes in every round, so that what slows the machine for a while falls on all; the median counts. */
export function growthOf(
  name: string,
  unit: string,
  works: readonly { readonly size: number; readonly cost: Cost }[],
  rounds: number,
): Growth {
  const costs = works.map((): number[] => []);
  for (let round = 0; round < WARM_ROUNDS + rounds; round++)
    for (const [i, { cost }] of works.entries()) {
      const spent = cost();
      if (round >= WARM_ROUNDS) costs[i]?.push(spent);
    }
  const points = works.map(({ size }, i) => ({ size, cost: quantile(costs[i] as number[], 0.5) }));
  return { name, unit, points };
}

/**
 * The exponent p of cost = c·size^p: slope of the straight line through (log size, log cost) by least squares. Sizes and costs of 0
 * have no logarithm and are left out; NaN with fewer than two others.
 */
export function growthExponent(points: readonly GrowthPoint[]): number {
  const logs = points
    .filter(({ size, cost }) => size > 0 && cost > 0)
    .map(({ size, cost }) => ({ x: Math.log(size), y: Math.log(cost) }));
  const mean = (pick: (log: { x: number; y: number }) => number): number =>
    logs.reduce((sum, log) => sum + pick(log), 0) / logs.length;
  const x = mean((log) => log.x);
  const y = mean((log) => log.y);
  const slope = mean((log) => (log.x - x) * (log.y - y));
  return slope / mean((log) => (log.x - x) ** 2);
}

/** Whether the time grows with the size or more slowly. Two sizes at least must have a cost. */
export function isLinear({ points }: Growth): boolean {
  return growthExponent(points) <= STEEPEST_LINEAR;
}

/** One row for each kind of work: the ends of the range, and how the time grows between them. */
export function growthTable(growths: readonly Growth[]): string {
  return markdownTable(
    ['what grows', 'sizes', 'processor time, ms', 'exponent', 'linear'],
    growths.map((growth) => {
      const { name, unit, points } = growth;
      return [
        name,
        `${points.map(({ size }) => size.toLocaleString('en-GB')).join(', ')} ${unit}`,
        points.map(({ cost }) => significant(cost / 1000)).join(', '),
        growthExponent(points).toFixed(2),
        isLinear(growth) ? 'yes' : 'no',
      ];
    }),
  );
}

/** Two significant digits are all that a loaded machine gives. */
function significant(value: number): string {
  return value >= 10 ? value.toFixed(0) : String(Number(value.toPrecision(2)));
}

import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { analyse } from '../../../src/features/analyse.js';
import { renderGainInto } from '../../../src/gain/render-gain.js';
import { insertRegion } from '../../../src/regions/insert-region.js';
import { setGain } from '../../../src/regions/set-gain.js';
import type { Samples } from '../../../src/signal/samples.js';
import { tiled } from '../stack/tiled.js';
import { analysisWork } from './analysis-work.js';
import { cpuCost, repeatsFor } from './cpu-cost.js';
import { type Growth, growthOf } from './growth.js';
import { mixedSignal } from './mixed-signal.js';
import type { Cost } from './paired-rounds.js';
import { evenRegions } from './render-figures.js';

const RATE = 48_000;
const LENGTHS_SECONDS = [10, 30, 60, 180, 600];
const RATES_HZ = [16_000, 32_000, 44_100, 48_000, 96_000, 192_000];
const REGION_COUNTS = [0, 50, 500, 5000, 50_000];
const LEAST_MILLISECONDS = 10;

/** How the time grows with the length of a clip, its sample rate, and the number of regions. */
export function growths(): readonly Growth[] {
  return [...lengthGrowths(), ...rateGrowths(), ...regionGrowths()];
}

function lengthGrowths(): readonly Growth[] {
  const minute = mixedSignal(60, RATE);
  const longest = tiled(minute, Math.max(...LENGTHS_SECONDS) * RATE);
  const over = (name: string, work: (samples: Samples) => unknown): Growth =>
    growthOf(
      name,
      's',
      LENGTHS_SECONDS.map((size) => ({
        size,
        cost: cpuCost(() => work(longest.subarray(0, size * RATE))),
      })),
      3,
    );
  return [
    over('length, analysis', (samples) => analysisWork(samples, RATE)),
    over('length, detection', (samples) => detectConsonants(samples, { sampleRateHz: RATE })),
  ];
}

function rateGrowths(): readonly Growth[] {
  const signals = RATES_HZ.map((size) => ({ size, samples: mixedSignal(10, size) }));
  const over = (name: string, work: (samples: Samples, sampleRateHz: number) => unknown): Growth =>
    growthOf(
      name,
      'Hz',
      signals.map(({ size, samples }) => ({ size, cost: cpuCost(() => work(samples, size)) })),
      7,
    );
  return [
    over('sample rate, all features', (samples, sampleRateHz) => analyse(samples, { sampleRateHz })),
    over('sample rate, detection', (samples, sampleRateHz) => detectConsonants(samples, { sampleRateHz })),
  ];
}

function regionGrowths(): readonly Growth[] {
  const lengthSamples = 60 * RATE;
  const samples = mixedSignal(60, RATE);
  const lists = REGION_COUNTS.map((size) => ({
    size,
    // Half of each 1.2 ms at 50,000, and as long with fewer. The gain is so small that rendering in place a thousand times leaves sound.
    list: evenRegions({ lengthSamples, count: size, regionSamples: 28, gainDb: -0.001 }),
  }));
  type List = (typeof lists)[number]['list'];
  const over = (name: string, work: (list: List) => unknown, least: number): Growth =>
    growthOf(
      name,
      'regions',
      lists
        .filter(({ size }) => size >= least)
        .map(({ size, list }) => ({ size, cost: repeatedCost(() => work(list)) })),
      5,
    );
  return [
    // In place: a copy of the clip would hide the regions.
    over('regions, render in place', (list) => renderGainInto(samples, samples, list), 0),
    over('regions, gain of one', (list) => setGain(list, Math.ceil(list.regions.length / 2), -3), 1),
    over(
      'regions, one more',
      (list) => insertRegion(list, { startSample: lengthSamples - 20, endSample: lengthSamples - 10 }),
      0,
    ),
  ];
}

function repeatedCost(work: () => unknown): Cost {
  return cpuCost(work, repeatsFor(work, LEAST_MILLISECONDS));
}

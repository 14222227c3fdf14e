import { renderGainInto } from '../../../src/gain/render-gain.js';
import { createRegionList } from '../../../src/regions/create-region-list.js';
import { insertRegions } from '../../../src/regions/insert-regions.js';
import type { RegionList } from '../../../src/regions/region.js';
import { cpuCost, repeatsFor } from './cpu-cost.js';
import { mixedSignal } from './mixed-signal.js';
import { pairedRounds, ratioOf } from './paired-rounds.js';
import type { SpeedFigure } from './speed-figure.js';
import type { Spread } from './spread.js';

const RATE = 48_000;

/** Evenly spread regions of one length, cut by `gainDb` with fades of a tenth of their length. */
export function evenRegions(options: {
  readonly lengthSamples: number;
  readonly count: number;
  readonly regionSamples: number;
  readonly gainDb: number;
}): RegionList {
  const { lengthSamples, count, regionSamples, gainDb } = options;
  const fade = Math.floor(regionSamples / 10);
  return insertRegions(
    createRegionList({ sampleRateHz: RATE, lengthSamples }),
    Array.from({ length: count }, (_, i) => {
      const startSample = Math.floor((i * lengthSamples) / count);
      const endSample = startSample + regionSamples;
      return {
        kind: 'sibilant',
        startSample,
        endSample,
        gainDb,
        fadeInSamples: fade,
        fadeOutSamples: fade,
      } as const;
    }),
  );
}

/** Rendering a minute with 1 % of it in regions of 100 ms, over copying it. */
export function renderRatio(rounds: number): Spread {
  const samples = mixedSignal(60, RATE);
  const list = evenRegions({ lengthSamples: samples.length, count: 6, regionSamples: 4800, gainDb: -6 });
  const out = new Float32Array(samples.length);
  const copy = (): void => out.set(samples);
  const repeats = repeatsFor(copy, 5);
  return ratioOf(
    pairedRounds(
      cpuCost(() => renderGainInto(out, samples, list), repeats),
      cpuCost(copy, repeats),
      rounds,
    ),
  );
}

/** The figure of rendering. */
export function renderFigures(): readonly SpeedFigure[] {
  return [
    {
      name: 'render into a buffer over a plain copy',
      measured: renderRatio(31),
      reach: 1.6,
      aim: 1.2,
      higherIsBetter: false,
      digits: 2,
      note: '60 s at 48 kHz, 6 regions of 100 ms with fades: 1 % of it',
    },
  ];
}

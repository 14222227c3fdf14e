import fc from 'fast-check';
import { type LevelTable, measureLevels } from '../../../src/levels/index.js';
import type { RegionList } from '../../../src/regions/region.js';
import type { Take } from '../../../src/takes/index.js';
import type { Clip } from './clips.js';
import { options, within } from './numbers.js';
import { clipsWithLists } from './region-lists.js';

/** Clips with lists, as long as measuring needs to find a voice beside a region. */
export const takesOfSound: fc.Arbitrary<Clip & { readonly list: RegionList }> = clipsWithLists({
  mostSeconds: 0.3,
  mostChannels: 2,
  rates: fc.constantFrom(8000, 16000, 44100, 48000),
});

/** The same, measured. */
export const measured: fc.Arbitrary<Clip & { readonly list: RegionList; readonly levels: LevelTable }> =
  takesOfSound.map((clip) => ({ ...clip, levels: measureLevels(clip.channels, clip.list) }));

/** Whether and how decisions are held back. */
export const guards = options({ guard: fc.boolean(), marginDb: within(-60, 60) });

/** Stacks of one to four takes that share time. */
export const stacks: fc.Arbitrary<readonly Take[]> = fc
  .tuple(
    fc
      .constantFrom(8000, 44100, 48000)
      .chain((rate) =>
        fc.array(
          clipsWithLists(
            { mostSeconds: 0.2, mostChannels: 2, rates: fc.constant(rate), leastSamples: 64, mostLevel: 4 },
            { mostRegions: 4 },
          ),
          { minLength: 1, maxLength: 4 },
        ),
      ),
    fc.array(fc.tuple(fc.integer({ min: -60, max: 60 }), within(-24, 12)), { minLength: 4, maxLength: 4 }),
  )
  .map(([drawn, places]) =>
    drawn.map(({ channels, list }, t) => ({
      id: t === 0 ? 'lead' : t,
      // One channel, or two as the widest has.
      channels:
        channels instanceof Float32Array ? channels : channels.length > 2 ? channels.slice(0, 2) : channels,
      list,
      // Every clip is at least 64 samples long, so that all of them share time.
      offsetSamples: Math.trunc(places[t]![0] / 2),
      gainDb: places[t]![1],
    })),
  );

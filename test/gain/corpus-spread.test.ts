import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { evenedCut } from '../../src/gain/evened-cut.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { levelledCut } from '../../src/gain/levelled-cut.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { shortenedFlags } from '../../src/gain/shortened-flags.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import type { LevelTable } from '../../src/levels/region-level.js';
import { sibilanceSpread } from '../../src/levels/sibilance-spread.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Channels } from '../../src/signal/samples.js';
import { demoLead } from '../lib/demo-lead.js';

const SONGS = fileURLToPath(new URL('../../../shared/corpus/pjs_singing', import.meta.url));

/** What each decision does to the sibilants of one take. */
function decided(channels: Channels, sampleRateHz: number) {
  const list = placeEdges(detectConsonants(channels, { sampleRateHz }), channels);
  const levels = measureLevels(channels, list);
  return {
    count: sibilanceSpread(levels, list)?.count ?? 0,
    spreadDb: sibilanceSpread(levels, list)?.spreadDb ?? 0,
    fixed: figures(fixedCut(list), levels),
    median: figures(levelledCut(list, levels, { targetPercentile: 50 }), levels),
    levelled: figures(levelledCut(list, levels), levels),
    evened: figures(evenedCut(list, levels), levels),
  };
}

function figures(list: RegionList, levels: LevelTable) {
  const gains = list.regions.filter(({ kind }) => kind === 'sibilant').map(({ gainDb }) => gainDb);
  return {
    spreadDb: sibilanceSpread(levels, list)?.spreadDb ?? 0,
    flags: overCutFlags(list, levels).length + shortenedFlags(list, levels).length,
    leastGainDb: Math.min(0, ...gains),
    meanCutDb: -gains.reduce((sum, gainDb) => sum + gainDb, 0) / gains.length,
  };
}

const db = (value: number): string => value.toFixed(1).padStart(5);

describe('levelled and evened cuts with their defaults', () => {
  it('let the spread of the demonstration fall by a third and more, within 6 dB and with no flag', () => {
    const { samples, sampleRateHz } = demoLead();
    const { spreadDb, levelled, evened } = decided(samples, sampleRateHz);
    for (const cut of [levelled, evened]) {
      expect(cut.spreadDb).toBeLessThanOrEqual((2 / 3) * spreadDb);
      expect(cut.leastGainDb).toBeGreaterThanOrEqual(-6);
      expect(cut.flags).toBe(0);
    }
  });

  it(`do so on nine of ten recorded songs with five sibilants and more, and nearly so on the tenth${existsSync(SONGS) ? '' : ' (skipped: no corpus beside the project)'}`, ({
    skip,
  }) => {
    if (!existsSync(SONGS)) {
      console.info(`skipped: ${SONGS} is not there`);
      skip();
    }
    const songs = loadCorpus(SONGS).map(({ name, channels, sampleRateHz }) => ({
      name,
      ...decided(channels, sampleRateHz),
    }));
    const line = (name: string, ...cells: readonly string[]) => `${name.padEnd(8)}${cells.join(' ')}`;
    console.info(
      [
        'P10 to P90 of sibilance in dB: as recorded, levelled to the median, levelled, evened; mean cut of the last three; flags of -6 dB on all',
        ...songs.map((s) =>
          line(
            s.name,
            String(s.count).padStart(3),
            ...[s, s.median, s.levelled, s.evened].map(({ spreadDb }) => db(spreadDb)),
            ...[s.median, s.levelled, s.evened].map(({ meanCutDb }) => db(meanCutDb)),
            String(s.fixed.flags).padStart(3),
          ),
        ),
      ].join('\n'),
    );
    // With fewer, a percentile hangs on one sound.
    const some = songs.filter(({ count }) => count >= 5);
    expect(some.length).toBeGreaterThanOrEqual(15);
    for (const { name, spreadDb, levelled, evened } of some)
      for (const cut of [levelled, evened]) {
        // What lies between the softest sibilant and the softest fifth stays, since a cut raises nothing, and a soft f that was taken for an s
        // makes that stretch longer (pjs054, at 2.9 s): a fifth falls in any song,
        expect(cut.spreadDb, name).toBeLessThanOrEqual((4 / 5) * spreadDb);
        expect(cut.leastGainDb, name).toBeGreaterThanOrEqual(-6);
        expect(cut.flags, name).toBe(0);
      }
    // and the third that is asked for in nine of ten.
    for (const decision of ['levelled', 'evened'] as const) {
      const enough = some.filter((song) => song[decision].spreadDb <= (2 / 3) * song.spreadDb);
      expect(enough.length).toBeGreaterThanOrEqual(0.9 * some.length);
    }
  });
});

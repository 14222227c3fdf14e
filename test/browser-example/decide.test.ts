import { describe, expect, it } from 'vitest';
import { chooseRegion } from '../../examples/browser/state/choose.js';
import { applyDecision, decideGains, receiveFound } from '../../examples/browser/state/decide.js';
import { changeGain, undoEdit } from '../../examples/browser/state/edit.js';
import { notesOf } from '../../examples/browser/state/notes.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { gainsOf, LENGTH, pageWith, RATE_HZ, THREE } from './page.js';

const levels = {
  sampleRateHz: RATE_HZ,
  // Of a measured take only these fields matter here.
  byId: new Map(
    [-8, -5, 2].map((sibilanceDb, i) => [
      i + 1,
      { id: i + 1, kind: 'sibilant', sound: 's-like', sibilanceDb } as never,
    ]),
  ),
  voiceDbfs: -20,
};
const esses = insertRegions(
  createRegionList({ sampleRateHz: RATE_HZ, lengthSamples: LENGTH }),
  [1, 2, 3].map((i) => ({ kind: 'sibilant' as const, startSample: i * 48000, endSample: i * 48000 + 4800 })),
);

describe('what a search found', () => {
  it('is cut by 6 dB where it is sibilant, as one edit that can be undone', () => {
    const page = pageWith(THREE);
    expect(page.phase).toBe('ready');
    expect(gainsOf(page)).toEqual([-6, 0, -6]);
    expect(gainsOf(undoEdit(page))).toEqual([0, 0, 0]);
  });

  it('is brought together with edits by hand the next time', () => {
    const edited = changeGain(chooseRegion(pageWith(THREE), 1), -9, true);
    const fourth = { kind: 'sibilant' as const, startSample: 192000, endSample: 196800, confidence: 0.4 };
    const empty = createRegionList({ sampleRateHz: RATE_HZ, lengthSamples: LENGTH });
    const again = receiveFound(
      { ...edited, phase: 'finding' },
      insertRegions(empty, [...THREE, fourth]),
      false,
    );
    expect(gainsOf(again)).toEqual([-9, 0, -6, 0]);
    expect(again.status).toMatch(/1 new/);
    expect(gainsOf(undoEdit(again))).toEqual([-9, 0, -6]);
  });
});

describe('a decision', () => {
  it('fixed gives the chosen kinds one gain', () => {
    const list = decideGains(esses, null, { how: 'fixed', cutDb: 4, kinds: ['sibilant'] });
    expect(list.regions.map((r) => r.gainDb)).toEqual([-4, -4, -4]);
  });

  it('level and even cut the loud ones more, never more than was allowed, and the softest not at all', () => {
    for (const how of ['level', 'even'] as const) {
      const gains = decideGains(esses, levels, { how, cutDb: 4, kinds: ['sibilant'] }).regions.map(
        (r) => r.gainDb,
      );
      expect(gains[0]).toBeCloseTo(0, 0);
      expect(gains[2]).toBeLessThan(gains[1] as number);
      expect(gains[2]).toBeGreaterThanOrEqual(-4);
    }
  });

  it('waits for measures where it needs them, and for a kind', () => {
    const page = pageWith(THREE);
    const level = applyDecision({ ...page, decision: { how: 'level', cutDb: 6, kinds: ['sibilant'] } });
    expect(level.status).toMatch(/measured/);
    const none = applyDecision({ ...page, decision: { how: 'fixed', cutDb: 6, kinds: [] } });
    expect(none.status).toMatch(/at least one kind/);
    expect([level.history, none.history]).toEqual([page.history, page.history]);
  });
});

describe('what is worth a listen', () => {
  it('lists flags first, then what is uncertain; a flag of a region that is gone is passed over', () => {
    const list = pageWith(THREE).history?.present;
    if (list === undefined) throw new Error('no list');
    const flags = [
      { id: 3, message: 'may be heard as th' },
      { id: 99, message: 'gone' },
    ];
    expect(notesOf(list, flags).map(({ id, isFlag }) => [id, isFlag])).toEqual([
      [3, true],
      [2, false],
    ]);
  });
});

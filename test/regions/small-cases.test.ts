import { describe, expect, it } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { reconcile } from '../../src/regions/reconcile.js';
import type { RegionList } from '../../src/regions/region.js';
import { snapToZeroCrossing } from '../../src/regions/snap-to-zero-crossing.js';

// Cases that mutation testing found no test to tell apart; what is expected is what the doc blocks say.

const listOf = (lengthSamples: number, ...drafts: RegionDraft[]): RegionList =>
  insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples }), drafts);

describe('merging', () => {
  it('takes kind and gain from the longest region, also where that lies later', () => {
    const list = listOf(
      1000,
      { startSample: 100, endSample: 150, kind: 'breath', gainDb: -12 },
      { startSample: 200, endSample: 400, kind: 'sibilant', gainDb: -6 },
      { startSample: 900, endSample: 950, kind: 'click', gainDb: -20 },
    );
    expect(mergeRegions(list, [1, 2, 3]).regions).toMatchObject([
      { id: 1, startSample: 100, endSample: 950, kind: 'sibilant', gainDb: -6 },
    ]);
  });
});

describe('reconciling', () => {
  it('leaves an edge moved by hand where it is if either side has no measured edge for it', () => {
    // The end is as measured; the start was set by a person, who left no onset.
    const old = listOf(1000, {
      startSample: 90,
      endSample: 200,
      offsetSample: 200,
      kind: 'sibilant',
      confidence: 0.9,
      gainDb: -6,
    });
    const find = {
      startSample: 110,
      endSample: 205,
      offsetSample: 205,
      kind: 'sibilant',
      confidence: 0.9,
    } as const;
    for (const onsetSample of [110, null]) {
      const { list } = reconcile(old, listOf(1000, { ...find, onsetSample }));
      expect(list.regions[0]).toMatchObject({ startSample: 90, endSample: 205, onsetSample });
    }
  });

  it('loses what was not found again where its measured end lies behind the end of the clip', () => {
    const edited = { startSample: 100, endSample: 200, kind: 'custom', label: 'mine' } as const;
    const kept = { keepUnmatched: true };
    const shorter = listOf(900);
    expect(reconcile(listOf(1000, { ...edited, offsetSample: 901 }), shorter, kept).lost).toMatchObject([
      { reason: 'outside' },
    ]);
    expect(reconcile(listOf(1000, { ...edited, onsetSample: 901 }), shorter, kept).lost).toMatchObject([
      { reason: 'outside' },
    ]);
    for (const edges of [{ offsetSample: 900 }, { onsetSample: 900 }, {}])
      expect(reconcile(listOf(1000, { ...edited, ...edges }), shorter, kept).lost).toEqual([]);
  });
});

describe('snapping', () => {
  it('takes no sample for a crossing between two of the same sign', () => {
    for (const sign of [-1, 1]) {
      const samples = Float32Array.from({ length: 100 }, (_, i) => (i < 55 ? sign : -sign) * 0.5);
      expect(snapToZeroCrossing(samples, 50, { withinSamples: 10 })).toBe(55);
      expect(snapToZeroCrossing(samples, 60, { withinSamples: 10 })).toBe(55);
      expect(snapToZeroCrossing(samples, 50, { withinSamples: 4 })).toBe(50);
    }
  });
});

describe('what reconciling reports', () => {
  const mine = { kind: 'custom', label: 'mine' } as const;

  it('puts a region back that lies behind others which were found again', () => {
    const old = listOf(
      1000,
      { startSample: 100, endSample: 200, ...mine },
      { startSample: 500, endSample: 600, ...mine },
    );
    const found = listOf(1000, { startSample: 100, endSample: 210, kind: 'sibilant', confidence: 0.9 });
    const { list, lost } = reconcile(old, found, { keepUnmatched: true });
    expect(lost).toEqual([]);
    expect(list.regions.map(({ id, startSample }) => [id, startSample])).toEqual([
      [1, 100],
      [2, 500],
    ]);
  });

  it('is in order of time, whatever was lost for which reason', () => {
    const old = listOf(
      1000,
      { startSample: 100, endSample: 200, ...mine },
      { startSample: 300, endSample: 400, ...mine },
      { startSample: 800, endSample: 900, locked: true },
    );
    const found = listOf(1000, { startSample: 880, endSample: 980, kind: 'sibilant', confidence: 0.9 });
    const { lost } = reconcile(old, found, { keepUnmatched: false });
    expect(lost.map(({ id, reason }) => [id, reason])).toEqual([
      [1, 'notFound'],
      [2, 'notFound'],
      [null, 'covered'],
    ]);
  });
});

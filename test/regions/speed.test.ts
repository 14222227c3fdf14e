import { expect, test } from 'vitest';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { recordEdit, startHistory, undo } from '../../src/regions/history.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { markRange } from '../../src/regions/mark-range.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import { nudgeEdges } from '../../src/regions/nudge-edges.js';
import type { Region } from '../../src/regions/region.js';
import { setGain } from '../../src/regions/set-gain.js';
import { trimRegion } from '../../src/regions/trim-region.js';
import { costRatio } from '../lib/cost-ratio.js';

test('an edit of one region in 50,000 costs a small multiple of copying the array, and no full check', () => {
  const count = 50_000;
  const drafts = Array.from({ length: count }, (_, i) => ({ startSample: i * 100, endSample: i * 100 + 50 }));
  const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: count * 100 }), drafts);
  const copy = () => {
    const out = new Array<Region>(count);
    for (let i = 0; i < count; i++) out[i] = list.regions[i] as Region;
    return Object.freeze(out);
  };
  const check = () => checkRegionList(list);
  const middle = 2_500_000;
  const history = startHistory(list);
  const edited = setGain(list, 25_000, -6);
  const recorded = recordEdit(history, edited, 'cut');
  const edits: [string, () => unknown][] = [
    ['setGain', () => setGain(list, 25_000, -6)],
    ['moveEdges', () => moveEdges(list, 25_000, { endSample: middle - 40 })],
    ['insertRegion', () => insertRegion(list, { startSample: middle + 60, endSample: middle + 80 })],
    ['markRange', () => markRange(list, middle + 10, middle + 20)],
    ['nudgeEdges', () => nudgeEdges(list, 25_000, { bySamples: 10 })],
    ['trimRegion', () => trimRegion(list, 25_000, middle - 90, middle - 60)],
    ['recordEdit', () => recordEdit(history, edited, 'cut')],
    ['undo', () => undo(recorded)],
  ];
  for (const [name, edit] of edits) {
    // A copy, a search by id and one call per region at most: 24 copies leave room for a loaded machine, and for one on which a plain
    // copy is cheap (recordEdit took 16 there). An edit that ran the full check would fail the line after it.
    expect(costRatio(edit, copy, 24), name).toBeLessThan(24);
    expect(costRatio(edit, check, 0.5), name).toBeLessThan(0.5);
  }
});

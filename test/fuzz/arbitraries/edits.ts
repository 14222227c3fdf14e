import fc from 'fast-check';
import {
  type EditHistory,
  FADE_SHAPES,
  REGION_KINDS,
  type RegionCriteria,
  type RegionDraft,
  recordEdit,
  redo,
  setGain,
  startHistory,
  undo,
} from '../../../src/regions/index.js';
import { options, whole, within } from './numbers.js';
import { idOf, labels, lists } from './region-lists.js';

/** A number by which a region or a place is chosen once the list is known. */
export const pick: fc.Arbitrary<number> = fc.nat(1e6);

/** New regions, most of which fit nowhere in particular. */
export const drafts: fc.Arbitrary<RegionDraft> = fc
  .tuple(
    fc.nat(2000),
    fc.integer({ min: 1, max: 80 }),
    options({
      kind: fc.constantFrom(...REGION_KINDS),
      gainDb: within(-120, 24),
      confidence: within(0, 1),
      bypassed: fc.boolean(),
      locked: fc.boolean(),
      fadeInSamples: fc.nat(3),
      fadeShape: fc.constantFrom(...FADE_SHAPES),
      label: labels,
    }),
  )
  .map(([startSample, length, rest]) => ({ startSample, endSample: startSample + length, ...rest }));

/** Conditions on regions. */
export const criteria: fc.Arbitrary<RegionCriteria> = options({
  kinds: fc.subarray([...REGION_KINDS]),
  ids: fc.array(whole(1, 9), { maxLength: 3 }),
  startSample: within(-10, 1e6),
  endSample: within(-10, 1e6),
  minConfidence: within(0, 1),
  belowConfidence: within(0, 1),
  label: labels,
  locked: fc.boolean(),
  bypassed: fc.boolean(),
});

/** Histories of a few edits, some taken back. */
export const histories: fc.Arbitrary<EditHistory> = fc
  .tuple(lists({}, true), fc.array(fc.tuple(pick, within(-24, 0), fc.nat(5)), { maxLength: 6 }), whole(1, 5))
  .map(([list, steps, maxEdits]) => {
    let history = startHistory(list, { maxEdits });
    for (const [p, gainDb, way] of steps) {
      const { present } = history;
      const region = present.regions.find(({ id }) => id === idOf(present, p));
      if (way === 0) history = undo(history);
      else if (way === 1) history = redo(history);
      else if (region !== undefined && !region.locked)
        history = recordEdit(history, setGain(present, region.id, gainDb), `to ${gainDb}`);
    }
    return history;
  });

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import {
  type EditHistory,
  lastEdit,
  MOST_EDITS,
  recordEdit,
  redo,
  startHistory,
  undo,
} from '../../src/regions/history.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { removeRegion } from '../../src/regions/remove-region.js';
import { setLabel } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { whatChanged } from '../../src/regions/what-changed.js';
import { regionLists } from './arbitraries.js';
import { edits, starts } from './edit-arbitraries.js';

const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 });
const first = insertRegions(empty, [
  { startSample: 0, endSample: 100 },
  { startSample: 200, endSample: 300 },
  { startSample: 400, endSample: 500 },
]);

const undoAll = (history: EditHistory): EditHistory => {
  let at = history;
  while (at.past.length > 0) at = undo(at);
  return at;
};
const redoAll = (history: EditHistory): EditHistory => {
  let at = history;
  while (at.future.length > 0) at = redo(at);
  return at;
};

describe('an edit history', () => {
  test('leads back through every list that there was, exactly, and forth again, for any edits of any kind', () => {
    let recorded = 0;
    fc.assert(
      fc.property(
        starts,
        fc.array(edits, { minLength: 1, maxLength: 25, size: 'max' }),
        (start, sequence) => {
          let history = startHistory(start);
          const lists: RegionList[] = [start];
          for (const edit of sequence) {
            const before = structuredClone(history);
            let list: RegionList;
            try {
              list = edit(history.present);
            } catch {
              continue;
            }
            const next = recordEdit(history, list, `edit ${lists.length}`);
            expect(history).toEqual(before);
            if (next === history) {
              expect(list).toEqual(history.present);
              continue;
            }
            recorded++;
            lists.push(list);
            history = next;
            expect(history.present).toBe(list);
          }
          const last = history;
          for (let i = lists.length - 1; i >= 0; i--) {
            expect(history.present).toEqual(lists[i]);
            expect(history.past.length).toBe(i);
            expect(history.future.length).toBe(lists.length - 1 - i);
            expect(lastEdit(history)?.label).toBe(i === 0 ? undefined : `edit ${i}`);
            history = undo(history);
          }
          expect(undo(history)).toBe(history);
          expect(history.present).toEqual(start);
          for (let i = 0; i < lists.length; i++) {
            expect(history.present).toEqual(lists[i]);
            history = redo(history);
          }
          expect(redo(history)).toBe(history);
          expect(history).toEqual(last);
        },
      ),
      { numRuns: 300 },
    );
    // On average at least two edits of a sequence change something: fewer would say little.
    expect(recorded).toBeGreaterThan(600);
  });

  test('after an undo, another edit takes the place of what was undone', () => {
    const one = recordEdit(startHistory(first), setGain(first, 1, -6), 'cut');
    const two = recordEdit(one, setGain(one.present, 2, -6), 'cut another');
    const back = undo(two);
    const other = recordEdit(back, setLabel(back.present, 3, 'x'), 'name');
    expect(other.past.map(({ label }) => label)).toEqual(['cut', 'name']);
    expect(other.future).toEqual([]);
    expect(two.future).toEqual([]);
    expect(back.future.map(({ label }) => label)).toEqual(['cut another']);
    expect(undoAll(other).present).toEqual(first);
  });

  test('records nothing where nothing differs, whether or not the list is another object', () => {
    const history = startHistory(first);
    expect(recordEdit(history, first, 'nothing')).toBe(history);
    expect(recordEdit(history, structuredClone(first), 'nothing')).toBe(history);
    expect(recordEdit(history, setGain(first, 1, 0), 'nothing')).toBe(history);
  });

  test('keeps only what an edit touched, and shares it', () => {
    const list = setGain(first, 2, -6);
    const [edit] = recordEdit(startHistory(first), list, 'cut').past;
    expect(edit?.before.regions).toEqual([first.regions[1]]);
    expect(edit?.before.regions[0]).toBe(first.regions[1]);
    expect(edit?.after.regions[0]).toBe(list.regions[1]);
    const back = undo(recordEdit(startHistory(first), list, 'cut')).present;
    back.regions.forEach((region, i) => {
      expect(region).toBe(first.regions[i]);
    });
  });

  test('forgets the oldest edits beyond its number, and no others', () => {
    let history = startHistory(first, { maxEdits: 3 });
    const lists = [first];
    for (let i = 1; i <= 5; i++) {
      lists.push(setGain(history.present, 1, -i));
      history = recordEdit(history, lists[i] as RegionList, `cut ${i}`);
    }
    expect(history.past.map(({ label }) => label)).toEqual(['cut 3', 'cut 4', 'cut 5']);
    expect(undoAll(history).present).toEqual(lists[2]);
    expect(redoAll(undoAll(history)).present).toEqual(lists[5]);
  });

  test('takes back a change of the clip itself', () => {
    const { list } = shiftRegions(first, 50, { lengthSamples: 320 });
    const history = recordEdit(startHistory(first), list, 'move the take');
    expect(history.present.lengthSamples).toBe(320);
    expect(undo(history).present).toEqual(first);
  });

  test('never lets nextId fall, so that no id is given a second time after a list from a file', () => {
    const list = insertRegion(first, { startSample: 600, endSample: 700 });
    const history = recordEdit(startHistory(list), first, 'go back to the saved list');
    expect(history.present).toEqual({ ...first, nextId: 5 });
    expect(insertRegion(history.present, { startSample: 600, endSample: 700 }).regions[3]?.id).toBe(5);
    expect(undo(history).present).toEqual(list);
  });

  test('is frozen through and through', () => {
    const history = recordEdit(startHistory(first), setGain(first, 1, -6), 'cut');
    const [edit] = history.past;
    for (const part of [history, history.past, history.future, edit, edit?.before, edit?.before.regions])
      expect(Object.isFrozen(part)).toBe(true);
  });

  /** A list that nobody froze. */
  type Loose = Omit<RegionList, 'regions'> & { regions: (Omit<Region, 'gainDb'> & { gainDb: number })[] };

  test('keeps what it was given, whatever becomes of that: what is not frozen is copied, and left as it is', () => {
    const loose = structuredClone(first) as Loose;
    const history = startHistory(loose);
    const edited = { ...loose, nextId: 1, regions: loose.regions.map((region) => ({ ...region })) } as Loose;
    edited.regions[1]!.gainDb = -6;
    const next = recordEdit(history, edited, 'cut');
    const kept = structuredClone(next);
    for (const list of [loose, edited]) {
      expect(Object.isFrozen(list.regions)).toBe(false);
      list.regions[1]!.gainDb = -20;
      list.regions.pop();
    }
    expect(history.present).toEqual(first);
    expect(next).toEqual(kept);
    expect(next.past[0]?.after.regions[0]?.gainDb).toBe(-6);
    expect(undo(next).present).toEqual(first);
    expect(redo(undo(next))).toEqual(kept);
    // Frozen regions in a list that is not.
    const outer: { nextId: number } & RegionList = { ...first };
    const sound = startHistory(outer);
    outer.nextId = 99;
    expect(sound.present).toEqual(first);
    // A frozen list is shared.
    expect(startHistory(first).present).toBe(first);
  });

  test('is refused where what changed does not fit what stayed, so that every history can be saved', () => {
    const history = startHistory(first);
    const change = (at: number, fields: Partial<Region>): RegionList => ({
      ...first,
      regions: first.regions.map((region, i) => (i === at ? { ...region, ...fields } : region)),
    });
    const [a, b] = first.regions as [Region, Region];
    const refused: readonly (readonly [RegionList, string])[] = [
      [change(1, { startSample: a.endSample - 1 }), 'recordEdit: region must not overlap another'],
      [change(0, { endSample: b.startSample + 1 }), 'recordEdit: region must not overlap another'],
      [change(1, { id: a.id }), `recordEdit: list.regions must have an id each; received ${a.id}`],
      [{ ...first, lengthSamples: a.endSample }, 'recordEdit: list.regions[1].endSample must lie within'],
      [
        { ...first, regions: [a, null as never] },
        'recordEdit: list.regions[1] must be an object; received null',
      ],
    ];
    for (const [list, message] of refused) expect(() => recordEdit(history, list, 'x')).toThrow(message);
    const touching = change(0, { endSample: b.startSample });
    expect(recordEdit(history, touching, 'x').present).toEqual(touching);
  });

  test('is refused for a broken list, label or number, and stays as it was', () => {
    const history = startHistory(first);
    const copy = structuredClone(history);
    const broken = {
      ...first,
      regions: [{ ...first.regions[0]!, gainDb: Number.NaN }, ...first.regions.slice(1)],
    };
    expect(() => recordEdit(history, broken, 'x')).toThrow(/^recordEdit: changed\.regions\[0\]\.gainDb must/);
    expect(() => startHistory(broken)).toThrow(RangeError);
    expect(() => recordEdit(history, first, 7 as unknown as string)).toThrow(TypeError);
    for (const list of [null, undefined, {}, { regions: 3 }])
      expect(() => recordEdit(history, list as unknown as RegionList, 'x')).toThrow(TypeError);
    for (const maxEdits of [0, MOST_EDITS + 1, 1.5, Number.NaN])
      expect(() => startHistory(first, { maxEdits })).toThrow(RangeError);
    expect(history).toEqual(copy);
  });
});

describe('what changed', () => {
  test('names ids that came and went, and the fields of those that stayed', () => {
    const after = splitRegion(removeRegion(setLabel(setGain(first, 3, -6), 3, 'x'), 1), 2, 250);
    expect(whatChanged(first, after)).toEqual({
      added: [4],
      removed: [1],
      changed: [
        { id: 2, fields: ['endSample'] },
        { id: 3, fields: ['gainDb', 'label'] },
      ],
      clip: ['nextId'],
    });
    expect(whatChanged(after, first)).toMatchObject({ added: [1], removed: [4] });
    expect(lastEdit(recordEdit(startHistory(first), after, 'much'))?.changes).toEqual(
      whatChanged(first, after),
    );
    expect(lastEdit(startHistory(first))).toBeUndefined();
  });

  test('sees a reason, a band and −0, and no difference between equal lists', () => {
    const [region] = first.regions;
    const alter = (fields: object): RegionList => ({
      ...first,
      regions: [{ ...region!, ...fields }, ...first.regions.slice(1)],
    });
    const fieldsOf = (list: RegionList) => whatChanged(first, list).changed[0]?.fields;
    expect(fieldsOf(alter({ reason: { rule: 'x', numbers: {} } }))).toEqual(['reason']);
    expect(fieldsOf(alter({ reason: { ...region!.reason, numbers: { toString: 1 } } }))).toEqual(['reason']);
    expect(fieldsOf(alter({ band: { lowHz: 0, highHz: 9000 } }))).toEqual(['band']);
    expect(fieldsOf(alter({ gainDb: -0 }))).toEqual(['gainDb']);
    fc.assert(
      fc.property(regionLists, (list) => {
        expect(whatChanged(list, structuredClone(list))).toEqual({
          added: [],
          removed: [],
          changed: [],
          clip: [],
        });
      }),
    );
  });

  test('a region that moves past where another was is found by its id', () => {
    const moved = moveEdges(removeRegion(first, 2), 1, { startSample: 250, endSample: 350 });
    expect(whatChanged(first, moved)).toMatchObject({
      added: [],
      removed: [2],
      changed: [{ id: 1, fields: ['startSample', 'endSample'] }],
    });
    expect(undo(recordEdit(startHistory(first), moved, 'move')).present).toEqual(first);
  });
});

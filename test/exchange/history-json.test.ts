import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { historyFromJson } from '../../src/exchange/history-from-json.js';
import { historyToJson } from '../../src/exchange/history-to-json.js';
import { MOST_PROBLEMS } from '../../src/exchange/parse-json.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import type { Problem } from '../../src/exchange/result.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import {
  type EditHistory,
  MOST_EDITS,
  recordEdit,
  redo,
  startHistory,
  undo,
} from '../../src/regions/history.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { removeRegion } from '../../src/regions/remove-region.js';
import { setLabel } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { regionLists } from '../regions/arbitraries.js';
import { edits, starts } from '../regions/edit-arbitraries.js';

const first = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 }), [
  { startSample: 0, endSample: 100, kind: 'sibilant' },
  { startSample: 200, endSample: 300, locked: true, reason: { rule: 'x', numbers: { zero: -0 } } },
]);
let worked = startHistory(first);
worked = recordEdit(worked, setGain(worked.present, 1, -6), 'cut “s” \u2028');
worked = recordEdit(worked, insertRegion(worked.present, { startSample: 400, endSample: 500 }), 'mark');
worked = recordEdit(worked, removeRegion(worked.present, 1), 'remove');
worked = recordEdit(worked, setLabel(worked.present, 3, 'z'), 'name');
/** Two edits in the past, two to redo. */
const sample = undo(undo(worked));
const text = historyToJson(sample);

// biome-ignore lint/suspicious/noExplicitAny: it stands for a file that may hold anything.
function changed(change: (data: any) => unknown): string {
  const data = JSON.parse(text);
  return JSON.stringify(change(data) ?? data);
}

function problemsOf(input: unknown): readonly Problem[] {
  const result = historyFromJson(input);
  expect(result.ok).toBe(false);
  const problems = result.ok ? [] : result.problems;
  expect(problems.length).toBeGreaterThan(0);
  expect(problems.length).toBeLessThanOrEqual(MOST_PROBLEMS);
  for (const { path, rule, received } of problems) {
    expect(path).toMatch(/^\$/);
    expect(rule).toMatch(/^must /);
    expect(received.length).toBeLessThanOrEqual(120);
  }
  return problems;
}

/** Every list that undo and redo lead to, from the first to the last. */
function everyList(history: EditHistory): RegionList[] {
  let at = history;
  while (at.past.length > 0) at = undo(at);
  const lists = [at.present];
  while (at.future.length > 0) {
    at = redo(at);
    lists.push(at.present);
  }
  return lists;
}

describe('a history file', () => {
  test('has the stated head, the present as a region file, and ends with a line feed', () => {
    const data = JSON.parse(text);
    expect(Object.keys(data)).toEqual(['format', 'version', 'maxEdits', 'present', 'past', 'future']);
    expect(data).toMatchObject({ format: 'lenition.history', version: 1, maxEdits: 200 });
    expect(data.present).toEqual(JSON.parse(regionsToJson(sample.present)));
    expect(text.endsWith('}\n')).toBe(true);
    expect(data.past.map((edit: { label: string }) => edit.label)).toEqual(['cut “s” \u2028', 'mark']);
    expect(data.future.map((edit: { label: string }) => edit.label)).toEqual(['name', 'remove']);
    expect(text).not.toContain('\u2028');
  });

  test('gives back exactly the history that was written, for any edits, undone or not', () => {
    fc.assert(
      fc.property(
        starts,
        fc.array(edits, { maxLength: 20, size: 'max' }),
        fc.nat({ max: 8 }),
        fc.string({ unit: 'binary' }),
        (start, sequence, steps, label) => {
          let history = startHistory(start, { maxEdits: 15 });
          for (const edit of sequence)
            try {
              history = recordEdit(history, edit(history.present), label);
            } catch {
              // An edit that does not suit the list changes nothing.
            }
          for (let i = 0; i < steps; i++) history = undo(history);
          const written = historyToJson(history);
          const result = historyFromJson(written);
          // toStrictEqual tells −0 from 0 and undefined from absent.
          expect(result).toStrictEqual({ ok: true, value: history });
          if (result.ok) expect(historyToJson(result.value)).toBe(written);
        },
      ),
      { numRuns: 200 },
    );
  });

  test('gives back lists with any reasons, bands, labels and −0', () => {
    fc.assert(
      fc.property(regionLists, regionLists, (a, b) => {
        const history = undo(recordEdit(recordEdit(startHistory(a), b, 'one'), a, 'two'));
        expect(historyFromJson(historyToJson(history))).toStrictEqual({ ok: true, value: history });
      }),
      { numRuns: 200 },
    );
  });

  test('is frozen once read, and every undo and redo leads to a sound list', () => {
    const result = historyFromJson(text);
    expect(result).toStrictEqual({ ok: true, value: sample });
    if (!result.ok) return;
    const { value } = result;
    for (const part of [value, value.past, value.future, value.past[0], value.past[0]?.before.regions])
      expect(Object.isFrozen(part)).toBe(true);
    const lists = everyList(value);
    expect(lists).toEqual(everyList(worked));
    for (const list of lists) checkRegionList(list);
  });

  test('takes a change of the clip’s length', () => {
    const history = recordEdit(
      startHistory(first),
      shiftRegions(first, 500, { lengthSamples: 900, moveLocked: true }).list,
      'x',
    );
    expect(historyFromJson(historyToJson(history))).toStrictEqual({ ok: true, value: history });
  });

  test('grows by one region line for an edit of one region in 5,000', () => {
    const drafts = Array.from({ length: 5000 }, (_, i) => ({
      startSample: i * 100,
      endSample: i * 100 + 50,
    }));
    const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 500_000 }), drafts);
    const history = startHistory(list);
    const edited = recordEdit(history, setGain(list, 3000, -6), 'cut');
    const more = historyToJson(edited).length - historyToJson(history).length;
    const regionLine = regionsToJson(list).length / 5000;
    // One line, the head of a region file (about 150 characters) and the step around it; all of them again would be 5,000 lines.
    expect(more).toBeLessThan(regionLine + 400);
  });

  test('is refused at writing where it could not be read again', () => {
    const broken = { ...sample, present: { ...sample.present, nextId: 1 } };
    expect(() => historyToJson(broken)).toThrow(/regionsToJson: list\.regions\[0\]\.id/);
  });
});

describe('history files that are wrong', () => {
  test('what is no string or no history gives one problem', () => {
    for (const input of [undefined, null, 1, {}, [], Symbol('x'), '', '{', '[]', 'null', '3', `${text}}`])
      expect(problemsOf(input)).toMatchObject([{ path: '$' }]);
    expect(problemsOf('{}')).toMatchObject([{ path: '$.format' }]);
    expect(problemsOf(regionsToJson(first))).toMatchObject([{ path: '$.format' }]);
    expect(problemsOf(text.replace('"version": 1', '"version": 2'))).toMatchObject([{ path: '$.version' }]);
    expect(problemsOf('['.repeat(1e6))).toMatchObject([
      { path: '$', rule: 'must nest at most 32 objects and arrays' },
    ]);
  });

  test('each field that is missing or of a wrong type is reported with its path', () => {
    const wrong = [null, true, 'x', -1.5, {}, undefined];
    for (const name of ['maxEdits', 'present', 'past', 'future'])
      for (const value of wrong)
        expect(
          problemsOf(
            changed((d) => {
              d[name] = value;
            }),
          )[0]?.path.startsWith(`$.${name}`),
        ).toBe(true);
    for (const side of ['past', 'future'])
      for (const name of ['label', 'remove', 'insert'])
        for (const value of wrong) {
          if (name === 'label' && value === 'x') continue;
          const paths = problemsOf(
            changed((d) => {
              d[side][1][name] = value;
            }),
          ).map(({ path }) => path);
          expect(paths[0]?.startsWith(`$.${side}[1].${name}`)).toBe(true);
        }
  });

  // biome-ignore lint/suspicious/noExplicitAny: as above.
  const pathsOf = (change: (d: any) => unknown): string[] =>
    problemsOf(changed(change)).map(({ path }) => path);

  test('an edit that does not fit is reported where it stands, the nearest to the present first', () => {
    expect(
      pathsOf((d) => {
        d.past[1].remove = [99];
      }),
    ).toEqual(['$.past[1].remove']);
    expect(
      pathsOf((d) => {
        d.past[1].remove = [3, 3];
      }),
    ).toEqual(['$.past[1].remove']);
    // Not taken out, the region is still there: it is not below the earlier nextId.
    expect(
      pathsOf((d) => {
        d.past[1].remove = [];
      }),
    ).toEqual(['$.past[1].insert']);
    expect(
      pathsOf((d) => {
        d.past[1].insert.nextId = 5;
      }),
    ).toEqual(['$.past[1].insert.nextId']);
    expect(
      pathsOf((d) => {
        d.future[1].insert.nextId = 3;
      }),
    ).toEqual(['$.future[1].insert.nextId']);
    expect(
      pathsOf((d) => {
        d.past[0].insert.regions[0].gainDb = 99;
      }),
    ).toEqual(['$.past[0].insert.regions[0].gainDb']);
    // Overlaps region 2 at 200, which the edit does not touch.
    expect(
      pathsOf((d) => {
        d.past[0].insert.regions[0].endSample = 201;
      }),
    ).toEqual(['$.past[0].insert']);
    // An id that is there already.
    expect(
      pathsOf((d) => {
        d.past[0].insert.regions[0].id = 2;
      }),
    ).toEqual(['$.past[0].insert']);
    // A clip that ends before region 2 does.
    expect(
      pathsOf((d) => {
        d.past[0].insert.lengthSamples = 299;
      }),
    ).toEqual(['$.past[0].insert']);
    expect(
      pathsOf((d) => {
        d.present.regions[0].gainDb = 'x';
        d.maxEdits = 0;
      }),
    ).toEqual(['$.maxEdits', '$.present.regions[0].gainDb']);
  });

  test('more edits than the file says, or than any history may hold, are refused', () => {
    expect(
      pathsOf((d) => {
        d.maxEdits = 3;
      }),
    ).toEqual(['$.past']);
    expect(
      changed((d) => {
        d.maxEdits = 4;
      }),
    ).toSatisfy((input: string) => historyFromJson(input).ok);
    expect(
      pathsOf((d) => {
        d.maxEdits = MOST_EDITS + 1;
      }),
    ).toEqual(['$.maxEdits']);
    const many = changed((d) => {
      d.maxEdits = MOST_EDITS;
      d.past = Array.from({ length: MOST_EDITS }, () => d.past[0]);
    });
    expect(problemsOf(many)).toMatchObject([{ path: '$.past' }]);
  });

  test('more regions times edits than can be tried out in seconds are refused, in files and at writing', () => {
    const count = 100_001;
    const drafts = Array.from({ length: count }, (_, i) => ({ startSample: i * 10, endSample: i * 10 + 5 }));
    const list = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: count * 10 }), drafts);
    let history = startHistory(list, { maxEdits: MOST_EDITS });
    history = recordEdit(history, setGain(list, 1, -6), 'cut');
    const full: EditHistory = {
      ...history,
      past: Array.from({ length: MOST_EDITS }, () => history.past[0]!),
    };
    expect(() => historyToJson(full)).toThrow(/^historyToJson: history must hold fewer edits/);
    const file = JSON.parse(historyToJson(history));
    file.past = Array.from({ length: MOST_EDITS }, () => file.past[0]);
    expect(problemsOf(JSON.stringify(file))).toMatchObject([
      {
        path: '$.past',
        rule: 'must hold fewer edits: with 100001 regions at most 999 together with $.future',
      },
    ]);
  });

  test('prototype names and unknown fields do nothing', () => {
    const poisoned = text
      .replace('{\n', '{\n"__proto__": { "polluted": 1, "past": 5 }, "extra": [],\n')
      .replace('{ "label"', '{ "__proto__": { "label": 5 }, "label"');
    expect(poisoned).not.toBe(text);
    expect(historyFromJson(poisoned)).toStrictEqual({ ok: true, value: sample });
    expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
  });

  test('files with flipped, dropped and exchanged bytes never throw, and what is read is sound all the way', () => {
    // Lehmer's generator, x · 48271 mod 2^31 − 1, so that a failure can be repeated.
    let state = 20260217;
    const random = (below: number): number => {
      state = (state * 48271) % 2147483647;
      return state % below;
    };
    const bytes = new TextEncoder().encode(text);
    let [read, refused] = [0, 0];
    for (let run = 0; run < 3000; run++) {
      const hurt = Uint8Array.from(bytes);
      for (let hits = 1 + random(2); hits > 0; hits--) {
        const at = random(hurt.length);
        if (random(2) === 0) hurt[at]! ^= 1 << random(8);
        else hurt[at] = bytes[random(bytes.length)]!;
      }
      const result = historyFromJson(new TextDecoder().decode(hurt));
      if (result.ok) {
        read++;
        for (const list of everyList(result.value)) checkRegionList(list);
        expect(historyFromJson(historyToJson(result.value))).toStrictEqual(result);
      } else refused++;
    }
    expect(Math.min(read, refused)).toBeGreaterThan(100);
  });

  test('arbitrary JSON in the place of any field never throws, and numbers nearby lead to sound lists or are refused', () => {
    const fields = ['remove', 'insert', 'label'];
    const nested = ['startSample', 'endSample', 'id', 'onsetSample', 'offsetSample', 'fadeInSamples'];
    let [read, refused] = [0, 0];
    fc.assert(
      fc.property(
        fc.constantFrom('past', 'future'),
        fc.nat({ max: 1 }),
        fc.oneof(
          fc.tuple(fc.constantFrom(...fields), fc.oneof(fc.jsonValue(), fc.array(fc.nat({ max: 4 })))),
          fc.tuple(fc.constantFrom(...nested), fc.integer({ min: -5, max: 600 })),
          fc.tuple(
            fc.constantFrom('nextId', 'lengthSamples', 'sampleRateHz'),
            fc.integer({ min: 0, max: 1001 }),
          ),
        ),
        (side, at, [name, value]) => {
          const input = changed((d) => {
            const step = d[side][at];
            if (fields.includes(name)) step[name] = value;
            else if (nested.includes(name)) {
              if (step.insert.regions.length > 0) step.insert.regions[0][name] = value;
            } else step.insert[name] = value;
          });
          const result = historyFromJson(input);
          if (result.ok) {
            read++;
            for (const list of everyList(result.value)) checkRegionList(list);
          } else {
            refused++;
            problemsOf(input);
          }
        },
      ),
      { numRuns: 2000 },
    );
    expect(Math.min(read, refused)).toBeGreaterThan(100);
  });
});

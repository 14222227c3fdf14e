import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MOST_REGIONS_IN_FILE } from '../../src/exchange/region-format.js';
import { MOST_PROBLEMS, regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import type { Problem } from '../../src/exchange/result.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { setBand } from '../../src/regions/set-band.js';
import { setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { damaged } from '../lib/damage.js';
import { regionLists } from '../regions/arbitraries.js';

const sample: RegionList = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 }), [
  {
    startSample: 100,
    endSample: 4900,
    kind: 'sibilant',
    onsetSample: 120,
    offsetSample: 4800,
    gainDb: -6,
    confidence: 0.875,
    locked: true,
    fadeInSamples: 144,
    fadeOutSamples: 96,
    label: 'naïve “ess” \u2028 \u0085 \ud83c\udfa4 </script>',
    reason: { rule: 'fixed cut', numbers: { cutDb: 6, levelDb: -23.456789012345677 } },
  },
  { startSample: 4900, endSample: 5000, kind: 'burst' },
  { startSample: 90000, endSample: 96000, kind: 'breath', bypassed: true },
]);
const text = regionsToJson(sample);

/** The sample file as data, changed, as text again. */
// biome-ignore lint/suspicious/noExplicitAny: it stands for a file that may hold anything.
function changed(change: (data: any) => unknown): string {
  const data = JSON.parse(text);
  return JSON.stringify(change(data) ?? data);
}

function problemsOf(input: unknown): readonly Problem[] {
  const result = regionsFromJson(input);
  expect(result.ok).toBe(false);
  const problems = result.ok ? [] : result.problems;
  expect(problems.length).toBeGreaterThan(0);
  for (const { path, rule, received } of problems) {
    expect(path).toMatch(/^\$/);
    expect(rule).toMatch(/^must /);
    expect(typeof received).toBe('string');
    expect(path.length + rule.length + received.length).toBeLessThan(600);
  }
  return problems;
}

describe('a region file', () => {
  test('has the stated head, one region a line, and ends with a line feed', () => {
    const lines = text.split('\n');
    expect(lines.slice(0, 7)).toEqual([
      '{',
      '  "format": "lenition.regions",',
      '  "version": 1,',
      '  "sampleRateHz": 48000,',
      '  "lengthSamples": 96000,',
      '  "nextId": 4,',
      '  "regions": [',
    ]);
    // Also where Unicode's line separators count, of which the label holds two.
    for (const split of [lines, text.split(/[\n\r\u0085\u2028\u2029]/)])
      expect(split).toHaveLength(7 + 3 + 3);
    expect(lines[7]).toMatch(/^ {4}\{ "id": 1, "kind": "sibilant", .*\},$/);
    expect(JSON.parse(text)).toEqual({ format: 'lenition.regions', version: 1, ...sample });
  });

  test('differs in one line where one region differs', () => {
    const before = text.split('\n');
    const after = regionsToJson(setGain(sample, 2, -3)).split('\n');
    expect(after).toHaveLength(before.length);
    expect(after.filter((line, i) => line !== before[i])).toHaveLength(1);
  });

  test('does not depend on the order in which the numbers of a reason were put in', () => {
    const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 10 });
    const withNumbers = (numbers: Record<string, number>): string =>
      regionsToJson(insertRegions(empty, [{ startSample: 0, endSample: 9, reason: { rule: '', numbers } }]));
    expect(withNumbers({ a: 1, b: 2 })).toBe(withNumbers({ b: 2, a: 1 }));
  });

  test('gives back exactly the list that was written, −0, lone surrogates and locks included', () => {
    fc.assert(
      fc.property(regionLists, (list) => {
        const written = regionsToJson(list);
        const result = regionsFromJson(written);
        // toStrictEqual tells −0 from 0 and undefined from absent.
        expect(result).toStrictEqual({ ok: true, value: list });
        if (result.ok) {
          expect(regionsToJson(result.value)).toBe(written);
          expect(Object.isFrozen(result.value) && Object.isFrozen(result.value.regions)).toBe(true);
          for (const region of result.value.regions)
            expect(Object.isFrozen(region) && Object.isFrozen(region.reason.numbers)).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('is refused at writing where the list could not be read again', () => {
    const broken = { ...sample, nextId: 1 };
    expect(() => regionsToJson(broken)).toThrow(/regionsToJson: list\.regions\[0\]\.id/);
  });
});

describe('the band of a region in a file', () => {
  const banded = setBand(setLocked(sample, 1, false), 1, { lowHz: 4000.5, highHz: 24000 });
  const withBand = (band: unknown): readonly Problem[] =>
    problemsOf(
      changed((d) => {
        d.regions[0].band = band;
      }),
    );

  test('stands after the gain where there is one, and nowhere else', () => {
    expect(text).not.toContain('band');
    const lines = regionsToJson(banded).split('\n');
    expect(lines[7]).toContain('"gainDb": -6, "band": { "lowHz": 4000.5, "highHz": 24000 }, "confidence"');
    expect(lines.filter((line) => line.includes('band'))).toHaveLength(1);
    expect(regionsFromJson(lines.join('\n'))).toStrictEqual({ ok: true, value: banded });
  });

  test('a file without bands reads as before, and its regions have no such field', () => {
    const result = regionsFromJson(text);
    expect(result.ok && result.value.regions.some((region) => 'band' in region)).toBe(false);
  });

  test('that is broken is a problem with its path', () => {
    for (const band of [null, true, 'all', 4000, [4000, 8000]])
      expect(withBand(band)).toMatchObject([{ path: '$.regions[0].band', rule: 'must be an object' }]);
    const low = '$.regions[0].band.lowHz';
    const high = '$.regions[0].band.highHz';
    const cases = [
      [{}, [low, high]],
      [{ lowHz: 100 }, [high]],
      [{ highHz: 100 }, [low]],
      [{ lowHz: '100', highHz: 200 }, [low]],
      [{ lowHz: -1, highHz: 200 }, [low]],
      [{ lowHz: 23981, highHz: 24000 }, [low]],
      [{ lowHz: 4000, highHz: 4019 }, [high]],
      [{ lowHz: 8000, highHz: 4000 }, [high]],
      [{ lowHz: 0, highHz: 24001 }, [high]],
      [{ lowHz: 0, highHz: null }, [high]],
    ] as const;
    for (const [band, paths] of cases) expect(withBand(band).map((p) => p.path)).toEqual(paths);
  });

  test('may carry unknown fields, which are passed over', () => {
    const result = regionsFromJson(
      changed((d) => {
        d.regions[0].band = { highHz: 24000, name: 'x', lowHz: 4000 };
      }),
    );
    expect(result.ok && result.value.regions[0]?.band).toStrictEqual({ lowHz: 4000, highHz: 24000 });
  });
});

describe('reading what RFC 8259 leaves to the reader', () => {
  test('white space, member order and number spelling do not matter (RFC 8259, sections 2, 4, 6)', () => {
    const reversed = changed((data) => {
      const flip = (o: object): object => Object.fromEntries(Object.entries(o).reverse());
      return flip({ ...data, regions: data.regions.map(flip) });
    });
    expect(regionsFromJson(reversed)).toStrictEqual({ ok: true, value: sample });
    const spelled = text
      .replace('"endSample": 4900', '"endSample":\r\n\t4.9e3')
      .replace('"gainDb": -6', '"gainDb": -6.0');
    expect(spelled).not.toBe(text);
    expect(regionsFromJson(spelled)).toStrictEqual({ ok: true, value: sample });
  });

  test('a byte-order mark is passed over (RFC 8259, section 8.1: parsers may ignore it)', () => {
    expect(regionsFromJson(`\uFEFF${text}`)).toStrictEqual({ ok: true, value: sample });
    expect(problemsOf(`\uFEFF\uFEFF${text}`)[0]?.path).toBe('$');
  });

  test('of a name given twice the last one counts (RFC 8259, section 4, leaves it open)', () => {
    const twice = text.replace('"nextId": 4', '"nextId": "x", "nextId": 4');
    expect(regionsFromJson(twice)).toStrictEqual({ ok: true, value: sample });
  });

  test('an integer that a double cannot hold exactly is refused (RFC 8259, section 6: beyond ±(2^53 − 1))', () => {
    const atLimit = text.replace('"lengthSamples": 96000', '"lengthSamples": 9007199254740991');
    expect(regionsFromJson(atLimit).ok).toBe(true);
    const beyond = text.replace('"lengthSamples": 96000', '"lengthSamples": 9007199254740992');
    expect(problemsOf(beyond).map((p) => p.path)).toEqual(['$.lengthSamples']);
  });

  test('NaN and Infinity are no JSON (RFC 8259, section 6), nor are they accepted as text or as 1e999', () => {
    for (const bare of ['NaN', 'Infinity', '-Infinity', '.5', '+6', '0x6', '06'])
      expect(problemsOf(text.replace('"gainDb": -6', `"gainDb": ${bare}`))[0]?.path).toBe('$');
    for (const value of ['"NaN"', '"-6"', '1e999', '-1e999', 'null', 'true', '[-6]', '{}'])
      expect(problemsOf(text.replace('"gainDb": -6', `"gainDb": ${value}`)).map((p) => p.path)).toEqual([
        '$.regions[0].gainDb',
      ]);
  });
});

describe('hostile region files', () => {
  test('what is no string, or no JSON, gives one problem at the root', () => {
    const hostile = new Proxy(
      {},
      {
        get() {
          throw new Error('trap');
        },
      },
    );
    const { proxy, revoke } = Proxy.revocable([], {});
    revoke();
    const inputs = [undefined, null, 1, Number.NaN, true, {}, [], () => 1, Symbol('x'), 10n, hostile, proxy];
    const texts = ['', ' ', '{', '[', 'nul', '{"a":}', text.slice(0, -3), `${text}}`, '\u0000', "{'a':1}"];
    for (const input of [...inputs, ...texts]) expect(problemsOf(input)).toHaveLength(1);
  });

  test('JSON of another kind, format or version is refused there, without a list of consequences', () => {
    for (const input of ['null', '3', '"x"', '[]', 'true', `[${text}]`])
      expect(problemsOf(input)).toMatchObject([{ path: '$' }]);
    expect(problemsOf('{}')).toMatchObject([{ path: '$.format' }]);
    for (const version of [0, '1', -1, null])
      expect(
        problemsOf(
          changed((d) => {
            d.version = version;
          }),
        ),
      ).toMatchObject([{ path: '$.version', rule: 'must be 1' }]);
    for (const version of [2, 1.5, 2 ** 53])
      expect(
        problemsOf(
          changed((d) => {
            d.version = version;
          }),
        ),
      ).toMatchObject([{ path: '$.version', rule: expect.stringMatching(/^must be at most 1: .* newer/) }]);
  });

  test('each field that is missing, or of each wrong type, is reported with its path', () => {
    const wrong = [null, true, 'x', -1.5, [], {}, undefined];
    const head = ['sampleRateHz', 'lengthSamples', 'nextId', 'regions'];
    for (const name of head)
      for (const value of wrong) {
        // An empty array is a sound list of regions.
        if (name === 'regions' && Array.isArray(value)) continue;
        const input = changed((d) => {
          d[name] = value;
        });
        expect(problemsOf(input)[0]?.path).toBe(`$.${name}`);
      }
    for (const name of Object.keys(sample.regions[0] as object))
      for (const value of wrong) {
        const allowed =
          (value === null && /^o(n|ff)set/.test(name)) ||
          (typeof value === 'boolean' && /ed$/.test(name)) ||
          (value === 'x' && name === 'label') ||
          (value === -1.5 && name === 'gainDb');
        const input = changed((d) => {
          d.regions[0][name] = value;
        });
        if (allowed) expect(regionsFromJson(input).ok).toBe(true);
        else expect(problemsOf(input)[0]?.path).toMatch(new RegExp(`^\\$\\.regions\\[0\\]\\.${name}`));
      }
  });

  test('every broken rule of a file is reported, not only the first', () => {
    const input = changed((d) => {
      d.nextId = 3;
      d.regions[0].gainDb = 25;
      d.regions[0].confidence = 2;
      d.regions[1].id = 1;
      d.regions[1].startSample = 4899;
      d.regions[2].reason.numbers = { levelDb: null };
    });
    const paths = problemsOf(input).map((p) => p.path);
    expect(paths).toEqual([
      '$.regions[0].gainDb',
      '$.regions[0].confidence',
      '$.regions[2].id',
      '$.regions[2].reason.numbers["levelDb"]',
    ]);
  });

  test('duplicate ids, ids not below nextId, overlap and wrong order are each refused', () => {
    // biome-ignore lint/suspicious/noExplicitAny: as above.
    const paths = (change: (d: any) => unknown): string[] => problemsOf(changed(change)).map((p) => p.path);
    expect(
      paths((d) => {
        d.regions[1].id = 1;
      }),
    ).toEqual(['$.regions[1].id']);
    expect(
      paths((d) => {
        d.nextId = 3;
      }),
    ).toEqual(['$.regions[2].id']);
    expect(
      paths((d) => {
        d.regions[1].startSample = 4899;
      }),
    ).toEqual(['$.regions[1].startSample']);
    expect(
      paths((d) => {
        d.regions.reverse();
      }),
    ).toEqual(['$.regions[1].startSample', '$.regions[2].startSample']);
    expect(
      paths((d) => {
        d.lengthSamples = 95999;
      }),
    ).toEqual(['$.regions[2].endSample']);
    expect(
      paths((d) => {
        d.regions[0].fadeInSamples = 4705;
      }),
    ).toEqual(['$.regions[0].fadeOutSamples']);
  });

  test('prototype names and unknown fields do nothing', () => {
    const poisoned = text
      .replace(
        '{\n',
        '{\n"__proto__": { "polluted": 1, "format": "x" }, "constructor": { "prototype": { "polluted": 1 } },\n',
      )
      .replace('{ "id": 1,', '{ "__proto__": { "locked": false, "polluted": 1 }, "toString": 5, "id": 1,')
      .replace('"numbers": { ', '"numbers": { "__proto__": 5, ');
    const result = regionsFromJson(poisoned);
    expect(result.ok).toBe(true);
    if (!result.ok) return;
    expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
    const region = result.value.regions[0]!;
    expect((region as { polluted?: unknown }).polluted).toBeUndefined();
    expect(Object.getPrototypeOf(region)).toBe(Object.prototype);
    expect(Object.getPrototypeOf(region.reason.numbers)).toBe(Object.prototype);
    expect(Object.keys(region)).toEqual(Object.keys(sample.regions[0]!));
    expect(Object.keys(region.reason.numbers)).toContain('__proto__');
    expect(region.locked).toBe(true);
    expect(Object.keys(result.value)).toEqual(['sampleRateHz', 'lengthSamples', 'nextId', 'regions']);
  });

  test('a required field is not found on a prototype set through __proto__', () => {
    const input = '{ "__proto__": { "format": "lenition.regions", "version": 1 } }';
    expect(problemsOf(input)).toMatchObject([{ path: '$.format', received: 'undefined' }]);
  });

  test('a million levels of nesting are refused before they are parsed, in any place', () => {
    const deep = `${'['.repeat(1e6)}${']'.repeat(1e6)}`;
    const inside = ['"label": ""', '"numbers": {}', '"nextId": 4'].map((field) =>
      text.replace(field, () => `${field.split(':')[0]}: ${deep}`),
    );
    for (const input of [deep, '['.repeat(1e6), '{"a":'.repeat(1e6), ...inside])
      expect(problemsOf(input)).toMatchObject([
        { path: '$', rule: 'must nest at most 32 objects and arrays' },
      ]);
  });

  test('the limits on nesting and on objects count none that stand in strings, and are met exactly', () => {
    const label = (content: string): string =>
      text.replace('"label": ""', () => `"label": ${JSON.stringify(content)}`);
    for (const content of ['{['.repeat(100), '\\'.repeat(3), `"${'['.repeat(100)}\\`, '\\"{'.repeat(99)])
      expect(regionsFromJson(label(content)).ok).toBe(true);
    // One level is the file's own object.
    const nested = (depth: number): string =>
      text.replace('{', () => `{ "extra": ${'['.repeat(depth - 1)}${']'.repeat(depth - 1)},`);
    expect(regionsFromJson(nested(32)).ok).toBe(true);
    expect(problemsOf(nested(33))).toMatchObject([{ path: '$' }]);
    const filled = (count: number): string =>
      text.replace('{', () => `{ "extra": [0${',[]'.repeat(count)}],`);
    const own = text.split(/[[{]/).length - 1;
    expect(regionsFromJson(filled(1_500_000 - own - 1)).ok).toBe(true);
    expect(problemsOf(filled(1_500_000 - own))).toMatchObject([
      { path: '$', rule: 'must hold at most 1500000 objects and arrays' },
    ]);
  });

  test('more regions than the cap are refused at once, and problems stop at their cap', () => {
    const head =
      '{"format":"lenition.regions","version":1,"sampleRateHz":48000,"lengthSamples":9,"nextId":9,"regions":[';
    const many = `${head}${'0,'.repeat(MOST_REGIONS_IN_FILE)}0]}`;
    expect(problemsOf(many)).toMatchObject([
      { path: '$.regions', received: String(MOST_REGIONS_IN_FILE + 1) },
    ]);
    const atCap = `${head}${'0,'.repeat(MOST_REGIONS_IN_FILE - 1)}0]}`;
    expect(problemsOf(atCap)).toHaveLength(MOST_PROBLEMS);
    const numbers = Array.from({ length: 5000 }, (_, i) => `"n${i}":null`).join(',');
    expect(problemsOf(text.replace('"numbers": {}', `"numbers": {${numbers}}`))).toHaveLength(MOST_PROBLEMS);
  });

  test('huge names and values are reported in a short line', () => {
    const long = 'x'.repeat(1e6);
    const input = changed((d) => {
      d.regions[0].kind = long;
      d.regions[0].reason.numbers = { [long]: null };
    });
    expect(problemsOf(input)).toHaveLength(2);
    expect(problemsOf(`{"format":"${long}"}`)).toHaveLength(1);
  });

  test('files with flipped, dropped, doubled and exchanged bytes never throw, and what is read is sound', () => {
    let read = 0;
    let refused = 0;
    for (const hurt of damaged(text, 20250711, 6000)) {
      const result = regionsFromJson(hurt);
      if (result.ok) {
        read++;
        checkRegionList(result.value);
        expect(regionsFromJson(regionsToJson(result.value))).toStrictEqual(result);
      } else {
        refused++;
        expect(result.problems.length).toBeGreaterThan(0);
        expect(result.problems.length).toBeLessThanOrEqual(MOST_PROBLEMS);
      }
    }
    // Both ways must have been taken often for the test to mean something.
    expect(read).toBeGreaterThan(100);
    expect(refused).toBeGreaterThan(1000);
  });

  test('arbitrary JSON values in the place of any field never throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), fc.nat({ max: 14 }), (a, b, which) => {
        const names = Object.keys(sample.regions[0] as object);
        const input = changed((d) => {
          d.regions[0][names[which]!] = a;
          d.regions[1] = b;
        });
        const result = regionsFromJson(input);
        if (result.ok) checkRegionList(result.value);
        else expect(result.problems.some((p) => p.path.startsWith('$.regions'))).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });
});

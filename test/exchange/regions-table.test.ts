import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { regionsFromTable } from '../../src/exchange/regions-from-table.js';
import { regionsToTable } from '../../src/exchange/regions-to-table.js';
import type { Result } from '../../src/exchange/result.js';
import type { RegionList } from '../../src/regions/region.js';
import { setLabel, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { damaged } from '../lib/damage.js';
import { regionLists } from '../regions/arbitraries.js';
import { checkReading, FILED_LIST, framedList, problemsOf } from './text-form-checks.js';

const text = regionsToTable(FILED_LIST);
const clip = { sampleRateHz: 48000, lengthSamples: 480000 };
const paths = (result: Result<RegionList>): string[] => problemsOf(result).map((p) => p.path);

/** The table with one field of a line (from 1) changed. */
function withField(line: number, column: string, value: string): string {
  const lines = text.split('\n');
  const names = lines[1]!.split('\t');
  const fields = lines[line - 1]!.split('\t');
  fields[names.indexOf(column)] = value;
  lines[line - 1] = fields.join('\t');
  return lines.join('\n');
}

describe('a table of regions', () => {
  test('is the file of version 1, byte for byte', () => {
    const file = readFileSync(new URL('files/version-1.tsv', import.meta.url), 'utf8');
    expect(text).toBe(file);
    expect(regionsFromTable(file)).toStrictEqual({ ok: true, value: FILED_LIST });
  });

  // IANA, text/tab-separated-values (READ in a mirror of the registry, 1993): one record a line, the same number of fields in each,
  // no tab in a field. The head above the names is ours.
  test('gives back exactly what was written, and keeps the registered form', () => {
    fc.assert(
      fc.property(regionLists, (list) => {
        const written = regionsToTable(list);
        const result = regionsFromTable(written);
        // toStrictEqual tells −0 from 0 and undefined from absent.
        expect(result).toStrictEqual({ ok: true, value: list });
        expect(result.ok && Object.isFrozen(result.value.regions)).toBe(true);
        // What any reader takes for a line end, Unicode's included, stands between records alone.
        const lines = written.split(/[\n\v\f\r\u0085\u2028\u2029]/);
        expect(lines).toHaveLength(list.regions.length + 3);
        for (const line of lines.slice(1, -1)) expect(line.split('\t')).toHaveLength(20);
        // UTF-8 carries every character of it: no half of a surrogate pair is left.
        expect(new TextDecoder().decode(new TextEncoder().encode(written))).toBe(written);
      }),
      { numRuns: 300 },
    );
  });

  test('begins with what people look for, its times to the microsecond', () => {
    const [head, names] = text.split('\n');
    expect(head).toBe('# lenition.regions.table 1 sampleRateHz=48000 lengthSamples=480000 nextId=4');
    expect(names!.split('\t').slice(0, 5)).toEqual(['startSeconds', 'endSeconds', 'label', 'kind', 'gainDb']);
    // 4801 / 48000 = 0.100 020 83…, 9599 / 48000 = 0.199 979 16… (closed form).
    expect(text.split('\n')[2]!.split('\t').slice(0, 2)).toEqual(['0.100021', '0.199979']);
  });

  test('carries samples through frames of 29.97 a second, where its times do not', () => {
    const list = framedList();
    expect(regionsFromTable(regionsToTable(list))).toStrictEqual({ ok: true, value: list });
  });

  test('lets no label start a formula or a quotation in a spreadsheet (MITRE, CWE-1236)', () => {
    const free = setLocked(FILED_LIST, 1, false);
    for (const label of [
      '=1+1',
      '+1',
      '-1',
      '@SUM(A1)',
      '"open',
      '#x',
      "'x",
      '\t=1',
      '\ufeffx',
      '\\t',
      '\\u0041',
    ]) {
      const list = setLabel(free, 1, label);
      const written = regionsToTable(list);
      expect(written.split('\n')[2]!.split('\t')[2]).toMatch(/^\\/);
      expect(regionsFromTable(written)).toStrictEqual({ ok: true, value: list });
    }
  });

  test('carries halves of surrogate pairs through UTF-8, which has none (RFC 3629, section 3)', () => {
    const list = setLabel(setLocked(FILED_LIST, 1, false), 1, 'a\ud800b\udfff \ud83c\udfa4');
    const written = regionsToTable(list);
    expect(written).toContain('a\\ud800b\\udfff \ud83c\udfa4');
    const stored = new TextDecoder().decode(new TextEncoder().encode(written));
    expect(regionsFromTable(stored)).toStrictEqual({ ok: true, value: list });
  });

  test('is refused at writing where it could not be read again', () => {
    expect(() => regionsToTable({ ...FILED_LIST, nextId: 1 })).toThrow(
      /regionsToTable: list\.regions\[0\]\.id/,
    );
    const free = setLocked(FILED_LIST, 1, false);
    expect(() => regionsToTable(setLabel(free, 1, '\\'.repeat(2 ** 19)))).toThrow(
      /regionsToTable: list\.regions\[0\] must give at most 1048576 characters/,
    );
  });
});

describe('a table that went through a spreadsheet or an editor', () => {
  test('reads the same: byte-order mark, CR LF, CR, added tabs, empty lines, comments, TRUE, quotes', () => {
    const same = { ok: true, value: FILED_LIST };
    expect(regionsFromTable(`\uFEFF${text}`)).toStrictEqual(same);
    expect(regionsFromTable(text.replaceAll('\n', '\r\n'))).toStrictEqual(same);
    expect(regionsFromTable(text.replaceAll('\n', '\r'))).toStrictEqual(same);
    expect(regionsFromTable(text.trimEnd())).toStrictEqual(same);
    expect(regionsFromTable(text.replace('\n', '\t\t\t\n\n# note\n\t\t\n'))).toStrictEqual(same);
    expect(regionsFromTable(text.replace('true', 'TRUE').replace(/false/g, 'FALSE'))).toStrictEqual(same);
    const quoted = withField(3, 'reason.numbers', '"{ ""cutDb"": 6, ""levelDb"": -23.4 }"');
    expect(regionsFromTable(quoted)).toStrictEqual(same);
  });

  test('may have its lines and columns in any order, and columns of others', () => {
    const [head, names, ...rows] = text.trimEnd().split('\n');
    const flip = (line: string): string => line.split('\t').reverse().join('\t');
    const flipped = [head, `${flip(names!)}\tmine`, ...rows.reverse().map((row) => `${flip(row)}\tx`)];
    expect(regionsFromTable(flipped.join('\n'))).toStrictEqual({ ok: true, value: FILED_LIST });
  });

  test('is refused where a time was changed and its sample was not, or the other way round', () => {
    expect(paths(regionsFromTable(withField(3, 'startSeconds', '0.102')))).toEqual(['line 3, startSeconds']);
    expect(paths(regionsFromTable(withField(4, 'endSample', '10200')))).toEqual(['line 4, endSeconds']);
    // Three decimals, as a spreadsheet may show and save them, are no change: 0.100 and 0.200 for 0.100021 and 0.199979.
    const rounded = withField(3, 'startSeconds', '0.100').replace('0.199979', '0.200');
    expect(regionsFromTable(rounded)).toStrictEqual({ ok: true, value: FILED_LIST });
  });

  test('takes the time where the sample was emptied, and the sample where the time was', () => {
    const byTime = withField(3, 'startSample', '').replace('0.100021', '0.0501');
    const result = regionsFromTable(byTime);
    // 0.0501 · 48000 = 2404.8 (closed form), to the nearest sample.
    expect(result.ok && result.value.regions[0]!.startSample).toBe(2405);
    expect(regionsFromTable(withField(3, 'startSeconds', ''))).toStrictEqual({ ok: true, value: FILED_LIST });
    expect(paths(regionsFromTable(withField(3, 'startSeconds', '').replace('\t4801\t', '\t\t')))).toEqual([
      'line 3, startSample',
    ]);
  });
});

describe('a broken table', () => {
  test('names each problem by line and column', () => {
    const cases: readonly (readonly [string, string, string])[] = [
      ['kind', 'esses', 'line 3, kind'],
      ['gainDb', '-6,0', 'line 3, gainDb'],
      ['gainDb', 'NaN', 'line 3, gainDb'],
      ['gainDb', 'Infinity', 'line 3, gainDb'],
      ['gainDb', '1e999', 'line 3, gainDb'],
      ['gainDb', '0x6', 'line 3, gainDb'],
      ['gainDb', '', 'line 3, gainDb'],
      ['gainDb', '6'.repeat(1e5), 'line 3, gainDb'],
      ['startSample', '9007199254740992', 'line 3, startSample'],
      ['startSample', '-9007199254740993', 'line 3, startSample'],
      ['endSample', '9007199254740991', 'line 3, endSample'],
      ['startSeconds', 'zero', 'line 3, startSeconds'],
      ['onsetSample', '-1', 'line 3, onsetSample'],
      ['band.lowHz', '4000', 'line 3, band.highHz'],
      ['bypassed', 'yes', 'line 3, bypassed'],
      ['label', 'C:\\new\\x', 'line 3, label'],
      ['label', '\\', 'line 3, label'],
      ['label', '\\u12', 'line 3, label'],
      ['reason.numbers', '', 'line 3, reason.numbers'],
      ['reason.numbers', '[]', 'line 3, reason.numbers'],
      ['reason.numbers', '{"a":{}}', 'line 3, reason.numbers'],
      ['reason.numbers', '['.repeat(1e6), 'line 3, reason.numbers'],
      ['reason.numbers', '{"a":"1"}', 'line 3, reason.numbers["a"]'],
      ['id', '3', 'line 4, id'],
      ['id', '4', 'line 3, id'],
    ];
    for (const [column, value, path] of cases)
      expect(
        paths(regionsFromTable(withField(3, column, value))),
        `${column} ${value.slice(0, 20)}`,
      ).toContain(path);
  });

  test('tells which lines overlap', () => {
    const overlapping = withField(4, 'startSample', '9598');
    expect(problemsOf(regionsFromTable(overlapping))).toMatchObject([
      { path: 'line 4, startSample', rule: 'must not lie before 9599, the end of the region before it' },
    ]);
  });

  test('is told by its head, its names and the number of its fields', () => {
    const head = (line: string): string[] => paths(regionsFromTable(text.replace(/^.*/, line)));
    expect(head('# lenition.regions.table 2 sampleRateHz=48000')).toEqual(['line 1, version']);
    expect(problemsOf(regionsFromTable(text.replace('table 1', 'table 2')))[0]!.rule).toMatch(
      /at most 1: .* newer library/,
    );
    expect(head('# lenition.regions.table')).toEqual(['line 1, version']);
    expect(head('# lenition.regions.table 1')).toEqual([
      'line 1, sampleRateHz',
      'line 1, lengthSamples',
      'line 1, nextId',
    ]);
    expect(head('# lenition.regions.table 1 sampleRateHz=4 lengthSamples=-1 nextId=NaN')).toHaveLength(3);
    expect(head(`# lenition.regions.table 1 ${'x'.repeat(1000)}`)).toEqual(['line 1']);
    expect(head('# lenition.regions.tables 1 sampleRateHz=48000')).toEqual(['line 1']);
    expect(paths(regionsFromTable(text.replace('\tkind\t', '\tsort\t')))).toEqual(['line 2']);
    expect(paths(regionsFromTable(text.replace('\tkind\t', '\tkind\tkind\t')))).toEqual(['line 2']);
    expect(paths(regionsFromTable(text.replace('\tsibilant\t', '\t')))).toEqual(['line 3']);
    expect(paths(regionsFromTable(text.replace('\tsibilant\t', '\tsibilant\t\t')))).toEqual(['line 3']);
    expect(paths(regionsFromTable(text.split('\n')[0]))).toHaveLength(20);
    for (const input of ['', '\n', 'x', undefined, null, 5, {}, [text], Symbol('x')])
      expect(paths(regionsFromTable(input))).toHaveLength(1);
  });

  test('names of prototypes do nothing', () => {
    const names = text
      .replace('\tkind\t', '\tkind\t__proto__\tconstructor\t')
      .replaceAll(/\t(sibilant|burst)\t/g, '\t$1\t1\t2\t');
    expect(regionsFromTable(names)).toStrictEqual({ ok: true, value: FILED_LIST });
    const numbers = withField(3, 'reason.numbers', '{"__proto__":5,"constructor":6}');
    const result = regionsFromTable(numbers);
    expect(result.ok && Object.keys(result.value.regions[0]!.reason.numbers)).toEqual([
      '__proto__',
      'constructor',
    ]);
    const head = text.replace(' nextId=4', ' __proto__=1 nextId=4 constructor=2');
    expect(regionsFromTable(head)).toStrictEqual({ ok: true, value: FILED_LIST });
  });

  test('that is huge in any way ends in a problem, not in an exhausted memory', () => {
    const head = text.split('\n').slice(0, 2).join('\n');
    const most = 2 ** 20;
    expect(paths(regionsFromTable(`${head}\n${'\t'.repeat(most + 1)}`))).toEqual(['line 3']);
    expect(paths(regionsFromTable(`${head}\n${'\t'.repeat(most)}x`))).toEqual(['line 3']);
    expect(paths(regionsFromTable(`${head}${'\n'.repeat(3_700_000)}x`))).toEqual(['line 3600001']);
    expect(paths(regionsFromTable(withField(3, 'label', '\\'.repeat(most))))).toEqual(['line 3']);
    expect(paths(regionsFromTable(withField(3, 'kind', '"'.repeat(most / 2))))).toEqual(['line 3, kind']);
    expect(paths(regionsFromTable(text.replace(/\n.*/, `\n${'a\t'.repeat(1000)}`)))).toEqual(['line 2']);
    expect(paths(regionsFromTable('x'.repeat(2 ** 27 + 1)))).toEqual(['$']);
    const rows = Array.from({ length: 300_001 }, (_, i) => `${i}\t${i + 1}`).join('\n');
    const long = { sampleRateHz: 8000, lengthSamples: 2 ** 40 };
    expect(paths(regionsFromTable(rows, long))).toEqual(['line 300001']);
    expect(regionsFromTable(rows.slice(0, rows.lastIndexOf('\n')), long).ok).toBe(true);
  });
});

describe('a bare table of start, end and label', () => {
  test('gives regions of kind custom, or of the kind that the label names', () => {
    const result = regionsFromTable('1.5\t1.62\tsibilant\n0.25\t0.5\tC:\\new "x"\textra\n2\t3\n', clip);
    const regions = result.ok ? result.value.regions : [];
    // Seconds times 48000 (closed form).
    expect(regions.map((r) => [r.id, r.startSample, r.endSample, r.kind, r.label])).toEqual([
      [2, 12000, 24000, 'custom', 'C:\\new "x"'],
      [1, 72000, 77760, 'sibilant', 'sibilant'],
      [3, 96000, 144000, 'custom', ''],
    ]);
    expect(result.ok && result.value.nextId).toBe(4);
    expect(regions[0]).toMatchObject({
      gainDb: 0,
      fadeInSamples: 0,
      locked: false,
      reason: { rule: 'from a table of times' },
    });
  });

  test('may have names on its first line, comments, and an end that milliseconds put behind the clip', () => {
    const table = 'start\tend\tlabel\n# note\n\n9.5\t10.0005\tlast\n';
    const result = regionsFromTable(table, clip);
    expect(result.ok && result.value.regions[0]!.endSample).toBe(480000);
    expect(paths(regionsFromTable('9.5\t10.0011\tlast', clip))).toEqual(['line 1, endSample']);
    expect(regionsFromTable('', clip)).toMatchObject({ ok: true, value: { regions: [], nextId: 1 } });
  });

  test('is refused without the clip, with broken times, and where lines overlap', () => {
    expect(paths(regionsFromTable('1\t2\tx'))).toEqual(['line 1']);
    expect(paths(regionsFromTable('0,5\t1,0\tx', clip))).toEqual(['line 1, start', 'line 1, end']);
    expect(paths(regionsFromTable('1\t2\nx\ty', clip))).toEqual(['line 2, start', 'line 2, end']);
    expect(paths(regionsFromTable('1\t1\tpoint', clip))).toEqual(['line 1, endSample']);
    expect(paths(regionsFromTable('2\t1\tback', clip))).toEqual(['line 1, endSample']);
    expect(paths(regionsFromTable('-1\t1', clip))).toEqual(['line 1, startSample']);
    expect(paths(regionsFromTable('1e300\t1e301', clip))).toEqual([
      'line 1, startSample',
      'line 1, endSample',
    ]);
    expect(paths(regionsFromTable('1e999\t1', clip))).toEqual(['line 1, startSample']);
    expect(paths(regionsFromTable('1\t3\n0\t1\n2\t4', clip))).toEqual(['line 3, startSample']);
  });

  test('a clip that is none is a mistake of the caller', () => {
    expect(() => regionsFromTable('', { sampleRateHz: 4, lengthSamples: 1 })).toThrow(RangeError);
    expect(() => regionsFromTable('', { sampleRateHz: 48000, lengthSamples: -1 })).toThrow(RangeError);
    expect(() =>
      regionsFromTable(text, { sampleRateHz: '48000' as unknown as number, lengthSamples: 1 }),
    ).toThrow(TypeError);
  });
});

describe('any text as a table', () => {
  const again = (list: RegionList): Result<RegionList> => regionsFromTable(regionsToTable(list));

  test('with damaged bytes is read soundly or refused', () => {
    const counts = { read: 0, refused: 0 };
    for (const hurt of damaged(text, 71, 3000)) counts[checkReading(regionsFromTable(hurt, clip), again)]++;
    // Both ways must have been taken often for the test to mean something.
    expect(counts.read).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(1000);
  });

  test('made of the pieces of tables is read soundly or refused', () => {
    const piece = fc.constantFrom(
      ...[
        '',
        '0',
        '1',
        '-0',
        '4801',
        '9599',
        '0.1',
        '1e3',
        'NaN',
        '1e999',
        '9007199254740992',
        'true',
        'TRUE',
        'sibilant',
        'linear',
      ],
      ...[
        '\\',
        '\\t',
        '\\ud800',
        '\ud800',
        '"',
        '""',
        '"a""b"',
        '{}',
        '{"__proto__":{"polluted":1}}',
        '[[',
        '#',
        '__proto__',
        '\0',
        '\u2028',
      ],
    );
    const row = fc.array(piece, { minLength: 1, maxLength: 22 }).map((fields) => fields.join('\t'));
    const sound = fc.constantFrom(...text.split('\n'));
    const changedRow = fc
      .tuple(fc.constantFrom(3, 4), fc.constantFrom(...text.split('\n')[1]!.split('\t')), piece)
      .map(([line, column, value]) => withField(line, column, value).split('\n')[line - 1]!);
    const tables = fc
      .tuple(
        fc.array(fc.oneof(row, sound, changedRow), { maxLength: 6 }),
        fc.boolean(),
        fc.constantFrom('\n', '\r\n', '\r'),
      )
      .map(([lines, headed, end]) => [...(headed ? text.split('\n').slice(0, 2) : []), ...lines].join(end));
    const counts = { read: 0, refused: 0 };
    fc.assert(
      fc.property(tables, (table) => {
        counts[checkReading(regionsFromTable(table, clip), again)]++;
      }),
      { numRuns: 3000, seed: 72 },
    );
    expect(counts.read).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(1000);
  });

  test('a changed gain changes one line', () => {
    const after = regionsToTable(setGain(FILED_LIST, 3, -9)).split('\n');
    expect(after.filter((line, i) => line !== text.split('\n')[i])).toHaveLength(1);
  });
});

import { describe, expect, it } from 'vitest';
import { csvRecords } from '../../src/exchange/csv-records.js';
import { joinLines } from '../../src/exchange/join-lines.js';
import { brokenShape } from '../../src/exchange/json-shape.js';
import { tooManyRows } from '../../src/exchange/list-from-rows.js';
import { numberFromText } from '../../src/exchange/number-from-text.js';
import { collectProblems, parseJson } from '../../src/exchange/parse-json.js';
import { MOST_CHARACTERS_IN_FILE, MOST_REGIONS_IN_FILE } from '../../src/exchange/region-format.js';
import { escapeField, unescapeField, unquoteField } from '../../src/exchange/table-text.js';
import { isHead, readHead } from '../../src/exchange/text-head.js';
import { firstLine, MOST_CHARACTERS_OF_REGION, textLines } from '../../src/exchange/text-lines.js';
import { messageOf } from '../lib/message-of.js';

const wrong = (value: unknown): never => value as never;
/** What is noted, as "path: rule; received". */
function notes() {
  const all: string[] = [];
  const note = (path: string, rule: string, received: string): void => {
    all.push(`${path}: ${rule}; ${received}`);
  };
  return { all, note };
}

describe('lines of a text', () => {
  const read = (text: string) => {
    const { all, note } = notes();
    return { lines: [...textLines(text, note)].map(({ number, text: own }) => `${number} ${own}`), all };
  };

  it('end with LF, CR or both, and the last one with the text', () => {
    expect(read('a\nb\r\nc\rd')).toEqual({ lines: ['1 a', '2 b', '3 c', '4 d'], all: [] });
    expect(read('\uFEFFa\n\n')).toEqual({ lines: ['1 a', '2 '], all: [] });
    expect(read('')).toEqual({ lines: [], all: [] });
    expect(firstLine('')).toEqual({ number: 1, text: '' });
    expect(firstLine('a\nb')).toEqual({ number: 1, text: 'a' });
  });

  it('are at most 2^20 characters long and twelve for each region that a file may hold', () => {
    const longest = 'x'.repeat(2 ** 20);
    expect(MOST_CHARACTERS_OF_REGION).toBe(2 ** 20);
    expect(read(`a\n${longest}\nb`).lines).toHaveLength(3);
    const over = read(`a\n${longest}x\nb`);
    expect(over.lines).toEqual(['1 a']);
    expect(over.all).toEqual(['line 2: must be at most 1048576 characters long; more']);
    const most = 12 * MOST_REGIONS_IN_FILE;
    const { all, note } = notes();
    let count = 0;
    for (const { number } of textLines('\n'.repeat(most + 5), note)) count = number;
    expect(count).toBe(most);
    expect(all).toEqual([`line ${most + 1}: must be the last of at most ${most} lines; more`]);
  });

  it('hold as many regions as a file may', () => {
    const rows = (length: number) => wrong({ length });
    const { all, note } = notes();
    expect(tooManyRows(rows(MOST_REGIONS_IN_FILE), 7, note)).toBe(false);
    expect(all).toEqual([]);
    expect(tooManyRows(rows(MOST_REGIONS_IN_FILE + 1), 7, note)).toBe(true);
    expect(all).toEqual([`line 7: must be the last of at most ${MOST_REGIONS_IN_FILE} regions; more`]);
  });

  it('are joined with a line feed behind each, unless a reader would refuse them', () => {
    expect(joinLines('f', ['head', ''], ['a', 'b'])).toBe('head\n\na\nb\n');
    const longest = 'x'.repeat(MOST_CHARACTERS_OF_REGION);
    expect(joinLines('f', [], [longest])).toHaveLength(MOST_CHARACTERS_OF_REGION + 1);
    expect(messageOf(() => joinLines('f', [], ['a', `${longest}x`]))).toBe(
      'f: list.regions[1] must give at most 1048576 characters; received 1048577',
    );
    // One text, many times: it is counted before it is joined.
    const many = Array<string>(Math.ceil(MOST_CHARACTERS_IN_FILE / (longest.length + 1))).fill(longest);
    const characters = 5 + many.length * (longest.length + 1);
    expect(messageOf(() => joinLines('f', ['head'], many))).toBe(
      `f: list must give at most ${MOST_CHARACTERS_IN_FILE} characters; received ${characters}`,
    );
  });
});

describe('the head of a text', () => {
  const read = (text: string) => {
    const { all, note } = notes();
    return { head: readHead({ number: 3, text }, 'regions of x', 2, note), all };
  };
  const numbers = 'sampleRateHz=48000 lengthSamples=9600 nextId=4';

  it('is the format, alone or before a blank', () => {
    expect(isHead('regions of x', 'regions of x')).toBe(true);
    expect(isHead('regions of x 2', 'regions of x')).toBe(true);
    expect(isHead('regions of x\t2', 'regions of x')).toBe(true);
    expect(isHead('regions of xy', 'regions of x')).toBe(false);
    expect(isHead('a regions of x', 'regions of x')).toBe(false);
  });

  it('gives its numbers, in any order and with others beside them', () => {
    const head = { sampleRateHz: 48_000, lengthSamples: 9600, nextId: 4, regions: [] };
    expect(read(`regions of x 2 ${numbers}`)).toEqual({ head, all: [] });
    expect(read(`regions of x  2\tnextId=4 by=me  lengthSamples=9600 sampleRateHz=48000 `).head).toEqual(
      head,
    );
  });

  it('tells what is missing or wrong, by line and name', () => {
    expect(read('regions of x 2 sampleRateHz=48000 nextId=4').all).toEqual([
      expect.stringMatching(/^line 3, lengthSamples: .*; undefined$/),
    ]);
    expect(read(`regions of x 2 ${numbers.replace('48000', 'fast')}`).all).toEqual([
      expect.stringMatching(/^line 3, sampleRateHz: .*; "fast"$/),
    ]);
    expect(read(`regions of x 1 ${numbers}`)).toMatchObject({
      head: undefined,
      all: [expect.stringMatching(/^line 3, version: .*; 1$/)],
    });
    expect(read('regions of x').all).toEqual([expect.stringMatching(/^line 3, version: .*; ""$/)]);
    const long = `regions of x 2 ${numbers} ${'y'.repeat(1000)}`;
    expect(read(long).all).toEqual([`line 3: must be at most 1000 characters long; ${long.length}`]);
    expect(read(`regions of x 2 ${numbers} `.padEnd(1000, 'y')).all).toEqual([]);
  });
});

describe('fields of tables', () => {
  it('have a way to say every character, and no other', () => {
    expect(escapeField('a\tb\nc\rd\\e\u0007\u2028')).toBe('a\\tb\\nc\\rd\\\\e\\u0007\\u2028');
    // What a spreadsheet would take for a formula, a text in marks or a comment.
    for (const first of '=+-@"#\'') {
      expect(escapeField(`${first}1${first}`)).toMatch(/^\\u00[0-9a-f]{2}1.$/);
      expect(unescapeField(escapeField(`${first}1${first}`))).toBe(`${first}1${first}`);
    }
    expect(unescapeField('\\t\\n\\r\\\\\\u0041')).toBe('\t\n\r\\A');
    for (const field of ['\\x', 'a\\', '\\u12', '\\u12G4']) expect(unescapeField(field)).toBe(undefined);
  });

  it('lose the marks that a spreadsheet put around them, and no others', () => {
    expect(unquoteField('"a ""b"" c"')).toBe('a "b" c');
    expect(unquoteField('""')).toBe('');
    for (const field of ['"', 'a', '"a', 'a"', '"a"b"', '']) expect(unquoteField(field)).toBe(field);
  });

  it('are numbers where they are written as such', () => {
    for (const text of ['0', '-1.5', '+2', '1e3', '1.5E-2', '007'])
      expect(numberFromText(text)).toBe(Number(text));
    for (const text of ['', ' 1', '1 ', '.5', '1.', '0x10', 'Infinity', 'NaN', '1e', '1,5', '--1'])
      expect(numberFromText(text)).toBe(text);
    expect(numberFromText('1'.repeat(801))).toBe('1'.repeat(801));
    expect(numberFromText(`0.${'1'.repeat(798)}`)).toBeCloseTo(1 / 9, 15);
  });
});

describe('records of a CSV text', () => {
  const read = (text: string, most = 3) => [...csvRecords(text, most)];

  it('have the fields and the line that they begin on', () => {
    expect(read('\uFEFFa,b\r\n\r\n"c\nd","e ""f"""\n,')).toEqual([
      { line: 1, fields: ['a', 'b'] },
      { line: 3, fields: ['c\nd', 'e "f"'] },
      { line: 5, fields: ['', ''] },
    ]);
    expect(read('')).toEqual([]);
    expect(read('""')).toEqual([]);
    // A CR alone ends nothing.
    expect(read('a\rb')).toEqual([{ line: 1, fields: ['a\rb'] }]);
  });

  it('say which rule they break', () => {
    const broken = (text: string): unknown[] => read(text).map((record) => record.broken);
    expect(broken('a"b\nc')).toEqual(['must be quoted as a whole or not at all', undefined]);
    expect(broken('"a"b,c')).toEqual(['must have nothing between a quoted field and a comma']);
    expect(broken('"a\nb')).toEqual(['must end each quoted field with a mark']);
    expect(broken('1,2,3,4')).toEqual(['must have at most 3 fields']);
    expect(read('1,2,3,4')[0]!.fields).toEqual(['1', '2', '3']);
    // The first of two.
    expect(broken('a"b,2,3,4')).toEqual(['must be quoted as a whole or not at all']);
  });
});

describe('JSON from outside', () => {
  it('is measured before it is parsed: depth, objects and arrays, not those within texts', () => {
    const most = { depth: 2, containers: 3 };
    for (const text of ['[[],[]]', '{"a":[]}', '"[[[[[["', '["\\"[[["]', '"[[[', '[]]][['])
      expect(brokenShape(text, most)).toBe(undefined);
    expect(brokenShape('[[[', most)).toBe('depth');
    expect(brokenShape('[{"a":{', most)).toBe('depth');
    expect(brokenShape('[[],[],[]]', most)).toBe('containers');
    expect(brokenShape('["\\\\",[[', most)).toBe('depth');
    const limits = { characters: 10, shape: most };
    const said = (text: unknown): unknown => {
      const result = parseJson(text, limits);
      return result.ok ? result.value : result.problems.map(({ path, rule }) => `${path} ${rule}`);
    };
    expect(said('\uFEFF[1]')).toEqual([1]);
    expect(said('[[[1]]]')).toEqual(['$ must nest at most 2 objects and arrays']);
    expect(said('[[],[],[]]')).toEqual(['$ must hold at most 3 objects and arrays']);
    expect(said('[1,2,3,4,5]')).toEqual(['$ must be at most 10 characters long']);
    expect(said('[1')).toEqual(['$ must be JSON text (RFC 8259)']);
    for (const value of [null, 5, undefined]) expect(said(value)).toEqual(['$ must be a string']);
  });

  it('gives a hundred problems at most, each cut to 120 characters, and no value beside them', () => {
    const result = collectProblems((note) => {
      for (let i = 0; i < 200; i++) note(`$[${i}]`, 'must be', 'x'.repeat(120 + i));
      return 5;
    });
    expect(result.ok).toBe(false);
    const found = result.ok ? [] : result.problems;
    expect(found).toHaveLength(100);
    expect(found[0]!.received).toBe('x'.repeat(120));
    expect(found[1]!.received).toBe(`${'x'.repeat(119)}…`);
    expect(collectProblems((note) => void note('$', 'a', 'b')).ok).toBe(false);
    expect(collectProblems(() => 5)).toEqual({ ok: true, value: 5 });
    expect(() =>
      collectProblems(() => {
        throw new Error('a fault of ours');
      }),
    ).toThrow('a fault of ours');
  });
});

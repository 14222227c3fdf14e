import { describe } from '../signal/check.js';
import type { RegionRow } from './list-from-rows.js';
import { numberFromText } from './number-from-text.js';
import { type JsonLimits, type NoteProblem, parseJson } from './parse-json.js';
import { MOST_CHARACTERS_IN_FILE } from './region-format.js';
import { checkAgreement, positionAt } from './region-from-times.js';
import { MOST_TABLE_COLUMNS, TABLE_COLUMNS, TABLE_TOLERANCE_SECONDS } from './table-format.js';
import { unescapeField, unquoteField } from './table-text.js';
import type { TextLine } from './text-lines.js';

/** Where each column of a table stands. */
export interface TableColumns {
  /** How many columns there are, unknown ones included. */
  readonly count: number;
  readonly indexes: ReadonlyMap<string, number>;
}

/** The columns that the line of names states; undefined where a problem was noted. */
export function readTableColumns(line: TextLine | undefined, note: NoteProblem): TableColumns | undefined {
  const names = (line?.text ?? '').split('\t', MOST_TABLE_COLUMNS + 1).map(unquoteField);
  const path = line === undefined ? 'line 2' : `line ${line.number}`;
  if (names.length > MOST_TABLE_COLUMNS) {
    note(path, `must have at most ${MOST_TABLE_COLUMNS} columns`, 'more');
    return undefined;
  }
  const missing = TABLE_COLUMNS.filter((column) => !names.includes(column));
  for (const column of missing)
    note(path, `must name the column ${column}`, describe((line?.text ?? '').slice(0, 120)));
  const twice = TABLE_COLUMNS.filter((column) => names.indexOf(column) !== names.lastIndexOf(column));
  for (const column of twice) note(path, `must name the column ${column} once`, 'twice');
  if (missing.length + twice.length > 0) return undefined;
  return { count: names.length, indexes: new Map(names.map((name, i) => [name, i])) };
}

/** `{}` and what JSON puts into it: the numbers of a reason nest no further. */
const NUMBERS_LIMITS: JsonLimits = {
  characters: MOST_CHARACTERS_IN_FILE,
  shape: { depth: 1, containers: 1 },
};

/**
 * The region of a line, its values as they stand where they are none of the right kind, so that the rules of regions report
 * them; undefined where it has too few or too many fields.
 */
export function readTableRow(
  line: TextLine,
  columns: TableColumns,
  sampleRateHz: number,
  note: NoteProblem,
): RegionRow | undefined {
  const fields = line.text.split('\t', columns.count + 1);
  if (fields.length !== columns.count) {
    const received = fields.length > columns.count ? 'more' : String(fields.length);
    note(`line ${line.number}`, `must have as many fields as the line of names (${columns.count})`, received);
    return undefined;
  }
  const at = (column: string): string => `line ${line.number}, ${column}`;
  const raw = (column: string): string =>
    unquoteField(fields[columns.indexes.get(column) as number] as string);
  const number = (column: string): number | string => numberFromText(raw(column));
  const numberOrNull = (column: string): number | string | null =>
    raw(column) === '' ? null : number(column);
  const text = (column: string): string => {
    const value = unescapeField(raw(column));
    if (value === undefined)
      note(
        at(column),
        'must have a backslash only in \\t, \\n, \\r, \\\\ and \\uXXXX',
        describe(raw(column).slice(0, 120)),
      );
    return value ?? '';
  };
  /** The position of an edge; its time is checked against it, or stands in for it. */
  const edge = (samples: string, seconds: string): number | string => {
    const time = numberOrNull(seconds);
    const position = numberOrNull(samples);
    if (position === null) return typeof time === 'number' ? positionAt(time, sampleRateHz) : '';
    if (time !== null)
      checkAgreement(time, position, sampleRateHz, TABLE_TOLERANCE_SECONDS, at(seconds), note);
    return position;
  };
  const band = { lowHz: numberOrNull('band.lowHz'), highHz: numberOrNull('band.highHz') };
  const region = {
    id: number('id'),
    kind: raw('kind'),
    onsetSample: numberOrNull('onsetSample'),
    offsetSample: numberOrNull('offsetSample'),
    startSample: edge('startSample', 'startSeconds'),
    endSample: edge('endSample', 'endSeconds'),
    gainDb: number('gainDb'),
    ...(band.lowHz === null && band.highHz === null ? {} : { band }),
    confidence: number('confidence'),
    bypassed: truth(raw('bypassed')),
    locked: truth(raw('locked')),
    fadeInSamples: number('fadeInSamples'),
    fadeOutSamples: number('fadeOutSamples'),
    fadeShape: raw('fadeShape'),
    label: text('label'),
    reason: {
      rule: text('reason.rule'),
      numbers: numbers(text('reason.numbers'), at('reason.numbers'), note),
    },
  };
  return { line: line.number, region };
}

/** Spreadsheets write TRUE and FALSE. */
function truth(text: string): boolean | string {
  if (/^true$/i.test(text)) return true;
  return /^false$/i.test(text) ? false : text;
}

function numbers(text: string, path: string, note: NoteProblem): unknown {
  const parsed = parseJson(text, NUMBERS_LIMITS);
  if (parsed.ok) return parsed.value;
  for (const { rule, received } of parsed.problems) note(path, rule, received);
  return {};
}

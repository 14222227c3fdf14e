import type { ClipOptions } from '../regions/create-region-list.js';
import type { RegionList, RegionReason } from '../regions/region.js';
import { describe } from '../signal/check.js';
import { listFromRows, type RegionRow, tooManyRows } from './list-from-rows.js';
import { numberFromText } from './number-from-text.js';
import { collectProblems, type NoteProblem, readText } from './parse-json.js';
import { MOST_CHARACTERS_IN_FILE } from './region-format.js';
import { checkClip, numbered, regionFromTimes } from './region-from-times.js';
import type { Result } from './result.js';
import { REGION_TABLE_FORMAT, REGION_TABLE_FORMAT_VERSION } from './table-format.js';
import { readTableColumns, readTableRow } from './table-row.js';
import { isHead, readHead } from './text-head.js';
import { firstLine, type TextLine, textLines } from './text-lines.js';

/**
 * A region list from a table of tab-separated values. Never throws for what the text holds, and takes time linear in its
 * length. Reports every problem, up to MOST_PROBLEMS, with its line: `line 7, gainDb`.
 *
 * **What `regionsToTable` wrote** is read back exactly, also after a spreadsheet: columns are found by their names, in
 * any order, others are passed over; lines may stand in any order; empty lines, further lines that begin with `#`, tabs added at
 * the end of the head, TRUE for true, and quotes around a field are let pass. The samples count; a time further than 1 ms from
 * them is a problem, since someone changed one of the two. Where the sample field is empty, the time counts, rounded to the
 * nearest sample.
 *
 * **Bare tables**, as many programs have them: start and end in seconds, a label or none, no head. They need `options`. Each
 * line becomes a region of kind `custom`, or of the kind that its label names, at 0 dB without fades, with ids from 1 on. Labels
 * are taken as they stand; columns after the third are passed over; a first line without any digit in its first two fields is taken
 * for names. An end up to 1 ms behind the clip is moved to its end. Lines that overlap are a problem.
 *
 * @param text the text of the file; anything but a string is a problem, not an error. At most MOST_CHARACTERS_IN_FILE long,
 * with at most MOST_REGIONS_IN_FILE regions. One byte-order mark at the start is passed over
 * @param options the clip that a bare table belongs to; a table with a head says so itself, and the options are not used
 * @returns the list, sound by the rules of `checkRegionList` and frozen, or the problems
 * @throws RangeError or TypeError where the options are not as stated
 *
 * Source: P. Lindner, "Definition of tab-separated-values", IANA media type text/tab-separated-values, 1993.
 *
 * @example
 * import { regionsFromTable } from 'lenition/exchange';
 * const table = '1.50\t1.62\tsibilant\n2.25\t2.31\tthe t of "cut"\n';
 * const result = regionsFromTable(table, { sampleRateHz: 48000, lengthSamples: 480000 });
 * result.ok && result.value.regions.map((region) => region.kind); // => ['sibilant', 'custom']
 * result.ok && result.value.regions[0]?.startSample; // => 72000
 * const broken = regionsFromTable(table);
 * broken.ok ? '' : broken.problems[0]?.path; // => 'line 1'
 */
export function regionsFromTable(text: unknown, options?: ClipOptions): Result<RegionList> {
  if (options !== undefined) checkClip('regionsFromTable', options);
  const sound = readText(text, MOST_CHARACTERS_IN_FILE);
  return sound.ok ? collectProblems((note) => readTable(sound.value, options, note)) : sound;
}

function readTable(text: string, clip: ClipOptions | undefined, note: NoteProblem): RegionList | undefined {
  const first = firstLine(text);
  if (first.text.startsWith('# ') && isHead(first.text.slice(2), REGION_TABLE_FORMAT))
    return readOwnTable(text, { ...first, text: first.text.slice(2) }, note);
  if (clip !== undefined) return readBareTable(text, clip, note);
  const rule = `must begin with "# ${REGION_TABLE_FORMAT}", or the options must state the clip`;
  note('line 1', rule, describe(first.text.slice(0, 120)));
  return undefined;
}

function readOwnTable(text: string, headLine: TextLine, note: NoteProblem): RegionList | undefined {
  const head = readHead(headLine, REGION_TABLE_FORMAT, REGION_TABLE_FORMAT_VERSION, note);
  if (head === undefined) return undefined;
  const lines = tableLines(text, note);
  const names = lines.next().value;
  const columns = readTableColumns(names, note);
  if (columns === undefined) return undefined;
  const rows: RegionRow[] = [];
  for (const line of lines) {
    const row = readTableRow(line, columns, head.sampleRateHz, note);
    if (row !== undefined) rows.push(row);
    if (tooManyRows(rows, line.number, note)) return undefined;
  }
  return listFromRows(head, rows, note);
}

const BARE_REASON: RegionReason = Object.freeze({
  rule: 'from a table of times',
  numbers: Object.freeze({}),
});

function readBareTable(text: string, clip: ClipOptions, note: NoteProblem): RegionList | undefined {
  const rows: RegionRow[] = [];
  let isFirst = true;
  for (const line of tableLines(text, note)) {
    const fields = line.text.split('\t', 3);
    const [start = '', end = '', label = ''] = fields;
    const isNames = isFirst && fields.length > 1 && !/\d/.test(start + end);
    isFirst = false;
    if (isNames) continue;
    const startSeconds = timeFrom(start, `line ${line.number}, start`, note);
    const endSeconds = timeFrom(end, `line ${line.number}, end`, note);
    if (startSeconds === undefined || endSeconds === undefined) continue;
    const region = regionFromTimes(startSeconds, endSeconds, label, clip, BARE_REASON);
    rows.push({ line: line.number, region });
    if (tooManyRows(rows, line.number, note)) return undefined;
  }
  const { sampleRateHz, lengthSamples } = clip;
  return listFromRows({ sampleRateHz, lengthSamples, nextId: rows.length + 1 }, numbered(rows), note);
}

function timeFrom(text: string, path: string, note: NoteProblem): number | undefined {
  const seconds = numberFromText(text.trim());
  if (typeof seconds === 'number') return seconds;
  note(path, 'must be a time in seconds, with a point', describe(text.slice(0, 120)));
  return undefined;
}

/** The lines that say something: neither empty nor comments. */
function* tableLines(text: string, note: NoteProblem): Generator<TextLine, undefined> {
  for (const line of textLines(text, note))
    if (!line.text.startsWith('#') && line.text.trim() !== '') yield line;
  return undefined;
}

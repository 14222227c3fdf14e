import type { PhoneCount, PhoneFigures } from '../../src/evaluation/phone-figures.js';

/** A column of the accuracy table: heading and how a row's cell is written. */
export interface Column {
  readonly heading: string;
  readonly cell: (figures: PhoneFigures) => string;
}

const share = (value: number | null): string => (value === null ? '–' : value.toFixed(3));
const percent = (value: number | null): string => (value === null ? '–' : (100 * value).toFixed(1));
const pair = (a: string, b: string): string => `${a} / ${b}`;
const ms = (seconds: number): string => (1000 * seconds).toFixed(1);
const phones = (counts: readonly PhoneCount[]): string =>
  counts
    .slice(0, 6)
    .map(({ phone, count }) => `${phone} ${count}`)
    .join(', ') || '–';

/** Every figure but the phones, one column each. */
export const COLUMNS: readonly Column[] = [
  { heading: 'labels', cell: (f) => String(f.sibilantLabels) },
  { heading: 'regions', cell: (f) => String(f.sibilantRegions) },
  { heading: 'strict F1', cell: (f) => share(f.strictF1) },
  { heading: 'precision', cell: (f) => share(f.strictPrecision) },
  { heading: 'recall', cell: (f) => share(f.strictRecall) },
  { heading: 'unvoiced recall', cell: (f) => share(f.unvoicedRecall) },
  { heading: 'wrong place %', cell: (f) => percent(f.wrongPlace) },
  {
    heading: 'voice/silence/breath %',
    cell: (f) => [f.wrongPlaceSonorant, f.wrongPlaceSilence, f.wrongPlaceBreath].map(percent).join(' / '),
  },
  { heading: 'voiced cut ms/min', cell: (f) => f.voicedCutMsPerMinute?.toFixed(0) ?? '–' },
  { heading: 't/k labels', cell: (f) => String(f.tongueStopLabels) },
  { heading: 'found', cell: (f) => share(f.tongueStopsFound) },
  { heading: 'told', cell: (f) => share(f.tongueStopsTold) },
  { heading: 'told apart', cell: (f) => share(f.tongueStopsToldApart) },
  { heading: 'breaths', cell: (f) => String(f.breathLabels) },
  { heading: 'breaths told', cell: (f) => share(f.breathsTold) },
  { heading: 'breaths harsh', cell: (f) => share(f.breathsHarsh) },
];

/** Edge errors in milliseconds. */
export const EDGE_COLUMNS: readonly Column[] = [
  { heading: 'pairs', cell: (f) => String(f.edges?.start.count ?? 0) },
  {
    heading: 'start ms, median / 90th',
    cell: (f) => (f.edges ? pair(ms(f.edges.start.medianSeconds), ms(f.edges.start.p90Seconds)) : '–'),
  },
  { heading: 'start bias ms', cell: (f) => (f.edges ? ms(f.edges.start.biasSeconds) : '–') },
  {
    heading: 'end ms, median / 90th',
    cell: (f) => (f.edges ? pair(ms(f.edges.end.medianSeconds), ms(f.edges.end.p90Seconds)) : '–'),
  },
  { heading: 'end bias ms', cell: (f) => (f.edges ? ms(f.edges.end.biasSeconds) : '–') },
];

/** What the mistakes were. */
export const PHONE_COLUMNS: readonly Column[] = [
  { heading: 'false ones by phone', cell: (f) => phones(f.falseByPhone) },
  { heading: 'misses by phone', cell: (f) => phones(f.missedByPhone) },
];

/** Rows of cells as a Markdown table, padded so that it can be read as plain text too. */
export function markdownTable(headings: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = headings.map((heading, c) =>
    Math.max(heading.length, ...rows.map((row) => (row[c] ?? '').length)),
  );
  const line = (cells: readonly string[]): string =>
    `| ${widths.map((width, c) => (c === 0 ? (cells[c] ?? '').padEnd(width) : (cells[c] ?? '').padStart(width))).join(' | ')} |`;
  const rule = `|${widths.map((width, c) => (c === 0 ? `${'-'.repeat(width + 2)}` : `${'-'.repeat(width + 1)}:`)).join('|')}|`;
  return [line(headings), rule, ...rows.map(line)].join('\n');
}

/** A table with one row a folder. */
export function figureTable(
  rows: readonly { readonly folder: string; readonly figures: PhoneFigures }[],
  columns: readonly Column[],
): string {
  return markdownTable(
    ['folder', ...columns.map((column) => column.heading)],
    rows.map(({ folder, figures }) => [folder, ...columns.map((column) => column.cell(figures))]),
  );
}

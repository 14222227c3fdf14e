import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import type { RegionList } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import type { NoteProblem } from './parse-json.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';
import type { ListHead } from './text-head.js';

/** A region as a text form had it, not judged yet. */
export interface RegionRow {
  /** The number of its line, from 1. */
  readonly line: number;
  readonly region: Readonly<Record<string, unknown>>;
}

/**
 * The list of these regions, ordered by their starts, built anew and frozen; undefined where a problem was noted. Broken
 * rules are reported under the lines of their regions, as in `line 7, gainDb`.
 */
export function listFromRows(
  head: ListHead,
  rows: readonly RegionRow[],
  note: NoteProblem,
): RegionList | undefined {
  const ordered = [...rows].sort((a, b) => startOf(a) - startOf(b));
  const data: unknown = { ...head, regions: ordered.map((row) => row.region) };
  const sound = visitListBreaches(data, '$', (path, rule, received) => {
    const [, index, field] = /^\$\.regions\[(\d+)\](?:\.(.*))?$/s.exec(path) ?? [];
    const line = ordered[Number(index)]?.line;
    note(field === undefined ? `line ${line}` : `line ${line}, ${field}`, rule, describe(received));
  });
  return sound ? freezeList({ ...data, regions: data.regions.map(freezeRegion) }) : undefined;
}

/** Notes, once, that a file holds more regions than are read; true: it does. */
export function tooManyRows(rows: readonly RegionRow[], line: number, note: NoteProblem): boolean {
  if (rows.length <= MOST_REGIONS_IN_FILE) return false;
  note(`line ${line}`, `must be the last of at most ${MOST_REGIONS_IN_FILE} regions`, 'more');
  return true;
}

/** Where a region starts; those without a sound start are reported anyway, wherever they stand. */
function startOf({ region }: RegionRow): number {
  const { startSample } = region as { readonly startSample?: unknown };
  return typeof startSample === 'number' ? startSample : 0;
}

import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import type { RegionList } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import { atCurrentVersion } from './at-current-version.js';
import { type FileKind, REGION_MIGRATIONS } from './migrations.js';
import type { NoteProblem } from './parse-json.js';
import { MOST_REGIONS_IN_FILE, REGION_FORMAT, REGION_FORMAT_VERSION } from './region-format.js';

const REGION_FILE: FileKind = {
  format: REGION_FORMAT,
  version: REGION_FORMAT_VERSION,
  migrations: REGION_MIGRATIONS,
};

/**
 * The list that the parsed data of a region file holds, built anew and frozen; undefined where a problem was noted. Data of
 * an older version is brought to the current one first.
 */
export function readRegionData(
  data: unknown,
  path: string,
  note: NoteProblem,
  kind: FileKind = REGION_FILE,
): RegionList | undefined {
  const current = atCurrentVersion(data, path, kind, note);
  if (current === undefined) return undefined;
  const { regions } = current as { readonly regions?: unknown };
  if (Array.isArray(regions) && regions.length > MOST_REGIONS_IN_FILE) {
    note(`${path}.regions`, `must hold at most ${MOST_REGIONS_IN_FILE}`, String(regions.length));
    return undefined;
  }
  const list: unknown = current;
  const sound = visitListBreaches(list, path, (at, rule, received) => note(at, rule, describe(received)));
  return sound ? freezeList({ ...list, regions: list.regions.map(freezeRegion) }) : undefined;
}

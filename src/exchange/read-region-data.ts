import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import type { RegionList } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import type { NoteProblem } from './parse-json.js';
import { MOST_REGIONS_IN_FILE, REGION_FORMAT, REGION_FORMAT_VERSION } from './region-format.js';

/** The list that the parsed data of a region file holds, built anew and frozen; undefined where a problem was noted. */
export function readRegionData(data: unknown, path: string, note: NoteProblem): RegionList | undefined {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    note(path, 'must be an object', describe(data));
    return undefined;
  }
  const { format, version, regions } = data as Partial<Record<'format' | 'version' | 'regions', unknown>>;
  // Another format or version has other rules: applying ours would only report noise.
  if (format !== REGION_FORMAT) {
    note(`${path}.format`, `must be "${REGION_FORMAT}"`, describe(format));
    return undefined;
  }
  if (version !== REGION_FORMAT_VERSION) {
    note(`${path}.version`, `must be ${REGION_FORMAT_VERSION}`, describe(version));
    return undefined;
  }
  if (Array.isArray(regions) && regions.length > MOST_REGIONS_IN_FILE) {
    note(`${path}.regions`, `must hold at most ${MOST_REGIONS_IN_FILE}`, String(regions.length));
    return undefined;
  }
  const sound = visitListBreaches(data, path, (at, rule, received) => note(at, rule, describe(received)));
  return sound ? freezeList({ ...data, regions: data.regions.map(freezeRegion) }) : undefined;
}

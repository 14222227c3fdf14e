import type { RegionList } from '../regions/region.js';
import { collectProblems, parseJson } from './parse-json.js';
import { readRegionData } from './read-region-data.js';
import type { Result } from './result.js';

export { MOST_PROBLEMS } from './parse-json.js';

/**
 * A region list from the text of a region file. Never throws, and takes time linear in the length of the text. Reports
 * every problem, up to MOST_PROBLEMS: text that is not JSON, an unknown format or version, a missing field, a field
 * of the wrong type or value, a number that JSON cannot carry (NaN, 1e999), a position that a double cannot hold exactly,
 * a band outside of the spectrum, duplicate ids, ids not below `nextId`, regions out of order or overlapping.
 *
 * The list is built anew from the known fields, one by one, and frozen: names such as `__proto__` do nothing, and
 * fields that version 1 does not know are passed over. Of a name that stands twice in one object the last counts (RFC
 * 8259, section 4, leaves that open). One byte-order mark at the start is passed over (section 8.1 permits it).
 *
 * @param text the text of the file; anything but a string is a problem, not an error. At most MOST_CHARACTERS_IN_FILE
 * long, with at most MOST_REGIONS_IN_FILE regions and no more objects and arrays than MOST_JSON_SHAPE says
 * @returns the list, sound by the rules of `checkRegionList` and frozen, or the problems with their paths
 *
 * Source: T. Bray (ed.), "The JavaScript Object Notation (JSON) Data Interchange Format", RFC 8259, 2017.
 *
 * @example
 * import { regionsFromJson } from 'lenition/exchange';
 * const result = regionsFromJson('{ "format": "lenition.regions", "version": 2 }');
 * result.ok; // => false
 * result.ok ? '' : result.problems[0]?.path; // => '$.version'
 */
export function regionsFromJson(text: unknown): Result<RegionList> {
  const parsed = parseJson(text);
  return parsed.ok ? collectProblems((note) => readRegionData(parsed.value, '$', note)) : parsed;
}

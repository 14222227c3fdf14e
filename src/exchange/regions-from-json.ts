import { freezeList, freezeRegion } from '../regions/freeze-region.js';
import type { RegionList } from '../regions/region.js';
import { visitListBreaches } from '../regions/region-rules.js';
import { describe } from '../signal/check.js';
import { brokenShape } from './json-shape.js';
import {
  MOST_CHARACTERS_IN_FILE,
  MOST_JSON_SHAPE,
  MOST_REGIONS_IN_FILE,
  REGION_FORMAT,
  REGION_FORMAT_VERSION,
} from './region-format.js';
import type { Problem, Result } from './result.js';

/** Most problems that one reading reports; it stops there. */
export const MOST_PROBLEMS = 100;

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
  if (typeof text !== 'string') return problem('$', 'must be a string', text === null ? 'null' : typeof text);
  if (text.length > MOST_CHARACTERS_IN_FILE)
    return problem('$', `must be at most ${MOST_CHARACTERS_IN_FILE} characters long`, String(text.length));
  const broken = brokenShape(text, MOST_JSON_SHAPE);
  if (broken !== undefined) return problem('$', SHAPE_RULES[broken], `more, in ${text.length} characters`);
  let data: unknown;
  try {
    data = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text);
  } catch (error) {
    return problem(
      '$',
      'must be JSON text (RFC 8259)',
      error instanceof Error ? error.message : 'broken text',
    );
  }
  return readData(data);
}

function readData(data: unknown): Result<RegionList> {
  if (typeof data !== 'object' || data === null || Array.isArray(data))
    return problem('$', 'must be an object', describe(data));
  const { format, version, regions } = data as Partial<Record<'format' | 'version' | 'regions', unknown>>;
  // Another format or version has other rules: applying ours would only report noise.
  if (format !== REGION_FORMAT) return problem('$.format', `must be "${REGION_FORMAT}"`, describe(format));
  if (version !== REGION_FORMAT_VERSION)
    return problem('$.version', `must be ${REGION_FORMAT_VERSION}`, describe(version));
  if (Array.isArray(regions) && regions.length > MOST_REGIONS_IN_FILE)
    return problem('$.regions', `must hold at most ${MOST_REGIONS_IN_FILE}`, String(regions.length));
  const problems: Problem[] = [];
  try {
    const sound = visitListBreaches(data, '$', (path, rule, received) => {
      problems.push(newProblem(path, rule, describe(received)));
      if (problems.length >= MOST_PROBLEMS) throw ENOUGH;
    });
    if (sound) {
      const frozen = data.regions.map(freezeRegion);
      return Object.freeze({ ok: true, value: freezeList({ ...data, regions: frozen }) });
    }
  } catch (error) {
    if (error !== ENOUGH) throw error;
  }
  return Object.freeze({ ok: false, problems: Object.freeze(problems) });
}

const SHAPE_RULES = {
  depth: `must nest at most ${MOST_JSON_SHAPE.depth} objects and arrays`,
  containers: `must hold at most ${MOST_JSON_SHAPE.containers} objects and arrays`,
} as const;

/** Thrown and caught in this file alone, to end a visit. */
const ENOUGH: unique symbol = Symbol('enough problems');

function problem(path: string, rule: string, received: string): Result<never> {
  return Object.freeze({ ok: false, problems: Object.freeze([newProblem(path, rule, received)]) });
}

function newProblem(path: string, rule: string, received: string): Problem {
  return Object.freeze({
    path,
    rule,
    received: received.length > 120 ? `${received.slice(0, 119)}…` : received,
  });
}

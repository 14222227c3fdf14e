import { assertRegionList } from '../regions/check-region-list.js';
import type { Region, RegionBand, RegionList, RegionReason } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import {
  MOST_CHARACTERS_IN_FILE,
  MOST_REGIONS_IN_FILE,
  REGION_FIELDS,
  REGION_FORMAT,
  REGION_FORMAT_VERSION,
} from './region-format.js';

/**
 * A region list as the text of a region file: JSON (RFC 8259), one region a line, fields always in the same order
 * (`band` only where a region has one),
 * names within a reason sorted, a line feed at the end. Equal lists give equal text, and an edit of one region changes
 * one line, so two versions can be compared line by line. Numbers are written in the shortest form that reads back as
 * the same double; `regionsFromJson` gives the list back exactly, locks, −0 and lone surrogates in labels included.
 *
 * @param list a region list; it is checked, so that what is written can be read
 * @returns the text, to be stored as UTF-8 without a byte-order mark
 * @throws RangeError or TypeError where the list breaks a rule of `checkRegionList`, holds more than
 * MOST_REGIONS_IN_FILE regions, or gives a text longer than MOST_CHARACTERS_IN_FILE
 *
 * Source of the format of numbers and text: T. Bray (ed.), "The JavaScript Object Notation (JSON) Data Interchange
 * Format", RFC 8259, 2017.
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { regionsFromJson, regionsToJson } from 'lenition/exchange';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const result = regionsFromJson(regionsToJson(list));
 * result.ok && result.value.lengthSamples; // => 480000
 */
export function regionsToJson(list: RegionList): string {
  assertRegionList('regionsToJson', list);
  const { sampleRateHz, lengthSamples, nextId, regions } = list;
  if (regions.length > MOST_REGIONS_IN_FILE)
    throw rangeError(
      'regionsToJson',
      'list.regions',
      `must hold at most ${MOST_REGIONS_IN_FILE}`,
      regions.length,
    );
  const lines = regions.map((region) => `    ${regionLine(region)}`);
  let characters = 0;
  for (const line of lines) characters += line.length + 2;
  // Leaves room for the head, which is far shorter than this.
  if (characters > MOST_CHARACTERS_IN_FILE - 1000)
    throw rangeError(
      'regionsToJson',
      'list',
      `must give at most ${MOST_CHARACTERS_IN_FILE} characters`,
      characters,
    );
  const body = lines.length === 0 ? '[]' : `[\n${lines.join(',\n')}\n  ]`;
  return `{
  "format": ${JSON.stringify(REGION_FORMAT)},
  "version": ${REGION_FORMAT_VERSION},
  "sampleRateHz": ${jsonText(sampleRateHz)},
  "lengthSamples": ${jsonText(lengthSamples)},
  "nextId": ${jsonText(nextId)},
  "regions": ${body}
}
`;
}

/** One region as a JSON object on one line, with the fields in the order of REGION_FIELDS. */
export function regionLine(region: Region): string {
  const { band } = region;
  const fields = band === undefined ? REGION_FIELDS.filter((field) => field !== 'band') : REGION_FIELDS;
  return objectText(fields, (field) => {
    if (field === 'reason') return reasonText(region);
    if (field === 'band') return bandText(band as RegionBand);
    return jsonText(region[field as Exclude<keyof Region, 'reason' | 'band'>]);
  });
}

function bandText({ lowHz, highHz }: RegionBand): string {
  return `{ "lowHz": ${jsonText(lowHz)}, "highHz": ${jsonText(highHz)} }`;
}

function reasonText({ reason }: Region): string {
  return `{ "rule": ${jsonText(reason.rule)}, "numbers": ${numbersText(reason)} }`;
}

/** The numbers of a reason as a JSON object, sorted by name. */
export function numbersText({ numbers }: RegionReason): string {
  return objectText(Object.keys(numbers).sort(), (name) => jsonText(numbers[name] as number));
}

function objectText(names: readonly string[], textOf: (name: string) => string): string {
  if (names.length === 0) return '{}';
  return `{ ${names.map((name) => `${jsonText(name)}: ${textOf(name)}`).join(', ')} }`;
}

/** A plain value as JSON: −0 kept, and no character that any reader takes for the end of a line. */
export function jsonText(value: number | string | boolean | null): string {
  // RFC 8259, section 6, has −0; JSON.stringify drops its sign.
  if (Object.is(value, -0)) return '-0';
  const text = JSON.stringify(value);
  // Characters that some editors and languages take for line ends, inside a label: one region stays one line.
  return typeof value === 'string' ? text.replace(/[\u0085\u2028\u2029]/g, escapeUnit) : text;
}

function escapeUnit(unit: string): string {
  return `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

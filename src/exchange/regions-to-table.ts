import { assertRegionList } from '../regions/check-region-list.js';
import type { Region, RegionList } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import { joinLines } from './join-lines.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';
import { jsonText, numbersText } from './regions-to-json.js';
import { REGION_TABLE_FORMAT, REGION_TABLE_FORMAT_VERSION, TABLE_COLUMNS } from './table-format.js';
import { escapeField } from './table-text.js';
import { headText } from './text-head.js';

/**
 * A region list as a table of tab-separated values, for spreadsheets and for reading: a line `# lenition.regions.table 1 …`
 * with the rate and length of the clip and the next id, a line with the names of the columns, then one region a line. It
 * begins with startSeconds, endSeconds, label, kind and gainDb. Nothing is lost: `regionsFromTable` gives the list back exactly.
 *
 * The times, to the microsecond, are for people; the samples beside them count. Where a region has no measured edge or no
 * band, those fields are empty. In label and reason, a backslash begins an escape: `\t`, `\n`, `\r`, `\\`, and `\uXXXX` for
 * controls, Unicode's line ends, lone surrogates, and for `= + - @ " # '` at the start of a field, which a spreadsheet could
 * take for a formula (MITRE, CWE-1236) or a quotation. reason.numbers is a JSON object.
 *
 * @param list a region list; it is checked, so that what is written can be read
 * @returns the text, to be stored as UTF-8, lines ended by a line feed
 * @throws RangeError or TypeError where the list breaks a rule of `checkRegionList`, holds more than
 * MOST_REGIONS_IN_FILE regions, or gives a text longer than MOST_CHARACTERS_IN_FILE or a line longer than MOST_CHARACTERS_OF_REGION
 *
 * Source: P. Lindner, "Definition of tab-separated-values", IANA media type text/tab-separated-values, 1993: no tab in a
 * field, one record a line, names on the first line, as many fields in each. The line before the names is not in it; `#` is the
 * usual mark for a comment (the default in W3C, "Metadata Vocabulary for Tabular Data", 2015, section 5.9; from memory), and a
 * reader without such marks skips one line. Its grammar can be read as forbidding empty fields; it is not read so here.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { regionsToTable } from 'lenition/exchange';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
 * const list = insertRegion(clip, { startSample: 4800, endSample: 9600, kind: 'sibilant', gainDb: -6, label: 'sun' });
 * const lines = regionsToTable(list).split('\n');
 * lines[0]; // => '# lenition.regions.table 1 sampleRateHz=48000 lengthSamples=480000 nextId=2'
 * lines[1]?.split('\t').slice(0, 5); // => ['startSeconds', 'endSeconds', 'label', 'kind', 'gainDb']
 * lines[2]?.split('\t').slice(0, 5); // => ['0.100000', '0.200000', 'sun', 'sibilant', '-6']
 */
export function regionsToTable(list: RegionList): string {
  assertRegionList('regionsToTable', list);
  const { regions, sampleRateHz } = list;
  if (regions.length > MOST_REGIONS_IN_FILE)
    throw rangeError(
      'regionsToTable',
      'list.regions',
      `must hold at most ${MOST_REGIONS_IN_FILE}`,
      regions.length,
    );
  const head = `# ${headText(REGION_TABLE_FORMAT, REGION_TABLE_FORMAT_VERSION, list)}`;
  const lines = regions.map((region) =>
    TABLE_COLUMNS.map((column) => fieldText(region, column, sampleRateHz)).join('\t'),
  );
  return joinLines('regionsToTable', [head, TABLE_COLUMNS.join('\t')], lines);
}

function fieldText(region: Region, column: string, sampleRateHz: number): string {
  switch (column) {
    case 'startSeconds':
      return (region.startSample / sampleRateHz).toFixed(6);
    case 'endSeconds':
      return (region.endSample / sampleRateHz).toFixed(6);
    case 'label':
      return escapeField(region.label);
    case 'band.lowHz':
      return plainText(region.band?.lowHz);
    case 'band.highHz':
      return plainText(region.band?.highHz);
    case 'reason.rule':
      return escapeField(region.reason.rule);
    case 'reason.numbers':
      return escapeField(numbersText(region.reason));
    default:
      return plainText(region[column as Exclude<keyof Region, 'band' | 'reason'>]);
  }
}

function plainText(value: number | string | boolean | null | undefined): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' ? value : jsonText(value);
}

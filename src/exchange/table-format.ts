import { REGION_FIELDS } from './region-format.js';

/** The name that a table of regions gives itself on its first line, after `# `. */
export const REGION_TABLE_FORMAT = 'lenition.regions.table';

/** The version of the table that this library writes and reads. */
export const REGION_TABLE_FORMAT_VERSION = 1;

/** What people look for first stands first, and as other programs have it: start, end, label. */
const FIRST_COLUMNS: readonly string[] = [
  'startSeconds',
  'endSeconds',
  'label',
  'kind',
  'gainDb',
  'startSample',
  'endSample',
];

/** The columns of a table; those with a point are the parts of a field that is an object. */
export const TABLE_COLUMNS: readonly string[] = Object.freeze([
  ...FIRST_COLUMNS,
  ...REGION_FIELDS.filter((field) => !FIRST_COLUMNS.includes(field)).flatMap((field): readonly string[] => {
    if (field === 'band') return ['band.lowHz', 'band.highHz'];
    return field === 'reason' ? ['reason.rule', 'reason.numbers'] : [field];
  }),
]);

/** Most columns of a table that is read: those above, and room for others that a person added. */
export const MOST_TABLE_COLUMNS = 100;

/**
 * How far a written time may lie from its position, in seconds: half a millisecond is lost where a spreadsheet shows and
 * saves three decimals, and as much again is left to it.
 */
export const TABLE_TOLERANCE_SECONDS = 0.001;

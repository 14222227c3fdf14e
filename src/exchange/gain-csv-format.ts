/** The first line of a gain table, and what each column is called. */
export const GAIN_CSV_COLUMNS: readonly string[] = Object.freeze(['seconds', 'sample', 'gainDb', 'law']);

/** Most lines of a gain table: six for each of the most regions in a file, and room. */
export const MOST_LINES_IN_GAIN_CSV = 2_000_000;

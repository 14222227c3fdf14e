/** The name that a history file gives itself. */
export const HISTORY_FORMAT = 'lenition.history';

/** The version of the history file that this library writes and reads. */
export const HISTORY_FORMAT_VERSION = 1;

/**
 * Most regions of the present times edits: reading tries every edit out on the whole list. It leaves room for 200 edits of
 * the most regions in a file, and for 1,000 of 100,000.
 */
export const MOST_REPLAYED = 100_000_000;
